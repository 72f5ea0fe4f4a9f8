package report

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"forkfront/optimize/volume"
	"forkfront/results/record"
	"forkfront/results/table"
)

// seedsFront has the fronts of some searches: points of two objectives.
func seedsFront(cases []string, seeds []int64, points [][2]float64) *table.Table {
	t := &table.Table{Rows: len(points), Columns: []table.Column{
		{Name: "case", Kind: table.Text},
		{Name: "seed", Kind: table.Int},
		{Name: "objective_a", Kind: table.Float, Source: "objective"},
		{Name: "objective_b", Kind: table.Float, Source: "objective"},
		{Name: "other", Kind: table.Float},
	}, Series: make([]table.Series, 5)}
	t.Series[0].Texts, t.Series[1].Ints = cases, seeds
	for i, p := range points {
		t.Series[2].Floats, t.Series[3].Floats = append(t.Series[2].Floats, p[0]), append(t.Series[3].Floats, p[1])
		t.Series[4].Floats = append(t.Series[4].Floats, float64(i))
	}
	return t
}

// Areas by hand, with the reference at 1.1: (0, 1) and (1, 0) dominate 0.11 + 0.11 - 0.01 = 0.21, (0.5, 0.5) 0.36, and all of them
// together 0.36 + 0.21 - 0.11 = 0.46, of which only one dominates 0.46 - 0.11 = 0.35, in whatever units. A search without another seed is compared with nothing.
func TestSeedsAreCompared(t *testing.T) {
	for _, scale := range []float64{1, 1e-3, 1e6} {
		front := seedsFront([]string{"x/1", "x/1", "x/2", "y/1"}, []int64{1, 1, 2, 1}, [][2]float64{{7, scale}, {7 + scale, 0}, {7 + scale/2, scale / 2}, {0, 0}})
		got := agreements(front)
		if len(got) != 2 || math.Abs(got["x/1"].Adds-100*(0.46/0.21-1)) > 6 || math.Abs(got["x/2"].Adds-100*(0.46/0.36-1)) > 1.5 || got["x/1"].Others != 1 || math.Abs(got["x/1"].Alone-100*0.35/0.46) > 2 {
			t.Errorf("scale %g: %+v, want 119 and 27.8 %% within the error of so many samples", scale, got)
		}
	}
}

func TestEqualFrontsAddNothing(t *testing.T) {
	points := [][2]float64{{0, 3}, {1, 1}, {3, 0}}
	front := seedsFront([]string{"x/1", "x/1", "x/1", "x/20", "x/20", "x/20"}, []int64{1, 1, 1, 20, 20, 20}, append(points, points...))
	if got := agreements(front); len(got) != 2 || got["x/1"].Adds != 0 || got["x/20"].Adds != 0 || got["x/1"].Alone != 0 {
		t.Errorf("%+v", got)
	}
}

// Exact volumes, of each set of fronts by itself: an n-th of what only one of n fronts covers is what the last of them has added, on
// average over which is the last, and no less than what one more front of the same kind adds on average.
func TestWhatAFurtherSeedAdds(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 6))
	const fronts, points = 4, 5
	reference := []float64{volume.Reference, volume.Reference}
	further, next := 0.0, 0.0
	for range 60 {
		cases, seeds, all := []string{}, []int64{}, [][2]float64{{0, 1}, {1, 0}}
		of := make([][][]float64, fronts+1)
		for k := range of {
			for range points {
				x := rng.Float64()
				p := [2]float64{x, (1 - x) * (1 + rng.Float64())}
				of[k] = append(of[k], p[:])
			}
			of[k] = append(of[k], []float64{0, 1}, []float64{1, 0}) // so that all have the same range
		}
		without := func(but int) float64 { // volume of the first fronts but one
			var p [][]float64
			for k := range fronts {
				if k != but {
					for _, q := range of[k] {
						p = append(p, []float64{q[0], min(q[1], 1)})
					}
				}
			}
			return volume.Hypervolume(p, reference)
		}
		all = all[:0]
		for k := range fronts {
			for _, q := range of[k] {
				cases, seeds, all = append(cases, fmt.Sprintf("x/%d", k)), append(seeds, int64(k)), append(all, [2]float64{q[0], min(q[1], 1)})
			}
		}
		together, want := without(-1), 0.0
		for k := range fronts {
			want += 100 * (1 - without(k)/together) / fronts
		}
		got := agreements(seedsFront(cases, seeds, all))["x/2"]
		if math.Abs(got.Alone/fronts-want) > 0.6 {
			t.Errorf("the last seed has added %.2f %%, want %.2f within the error of so many samples", got.Alone/fronts, want)
		}
		var more [][]float64
		for k := range of {
			for _, q := range of[k] {
				more = append(more, []float64{q[0], min(q[1], 1)})
			}
		}
		further, next = further+want, next+100*(volume.Hypervolume(more, reference)/together-1)
	}
	if next > further || next < further/4 {
		t.Errorf("one more front added %.1f, expected were no more than %.1f", next, further)
	}
}

func TestVerdictFollowsOtherSeeds(t *testing.T) {
	steps := map[bool][]step{true: {{100, 0.1}, {800, 0.498}, {1000, 0.5}}, false: {{100, 0.1}, {800, 0.45}, {1000, 0.5}}}
	for _, x := range []struct {
		flat, settled bool
		others        agreement
		begins, says  string
	}{
		{true, true, agreement{}, "no longer growing: the last fifth of the evaluations added 0.4 %", "another seed would tell"},
		{true, true, agreement{"", 1, 1.5, 2.4}, "no longer growing: the last fifth of the evaluations added 0.4 %", "another seed adds 1.5 % to this front. What one search in two misses, both miss in one case of 4"},
		{true, true, agreement{"", 2, 2.5, 3}, "settled: ", "another seed adds 2.5 % to this front, and as many seeds again, or twice the evaluations, are likely to bring all 3 together about 1.5 %, and not more than twice that. What one search in two misses, all 3 miss in one case of 8"},
		{true, true, agreement{"", 3, 6, 5.6}, "settled: ", "bring all 4 together about 2.8 %"},
		{true, false, agreement{"", 2, 2.5, 3}, "not settled: another seed's front still grows", "adds 2.5 % to this one"},
		{true, false, agreement{"", 3, 6, 6.4}, "not settled: another seed adds 6 %", "(the last fifth of the evaluations added 0.4 % of hypervolume)"},
		{true, false, agreement{"", 2, 8, 12}, "not settled: another seed adds 8 %", "twice the evaluations are likely to bring it up to 16 % ("},
		{false, false, agreement{"", 1, 1.5, 2.4}, "still growing: the last fifth of the evaluations added 10 %", "another seed adds 1.5 % to this front, and twice the evaluations are likely to bring it up to 3 %; give"},
		{false, false, agreement{"", 1, 20, 20}, "not settled: another seed adds 20 %", "(the last fifth of the evaluations added 10 % of hypervolume)"},
	} {
		c := caseTrust{Evaluations: 24000}
		c.converged(steps[x.flat])
		c.agree(x.others, x.begins == "not settled: another seed's front still grows")
		if c.Settled != x.settled || !strings.HasPrefix(c.Verdict, x.begins) || !strings.Contains(c.Verdict, x.says) {
			t.Errorf("%+v: %t, %q", x, c.Settled, c.Verdict)
		}
	}
}

// Short searches have more to come than long ones.
func TestTwiceTheEvaluationsBringMoreToShortSearches(t *testing.T) {
	a := agreement{"", 1, 4, 6}
	if short, long := a.twice(23999), a.twice(24000); short != "6 to 32 %" || long != "up to 8 %" {
		t.Errorf("%s and %s", short, long)
	}
}

// Three seeds that agree have settled, unless one of them still grows.
func TestASeedThatGrowsKeepsTheOthersFromSettling(t *testing.T) {
	for _, last := range []float64{0.498, 0.45} { // after four fifths of the third search
		var cases []string
		var seeds []int64
		var points [][2]float64
		run := &record.Run{}
		history := &table.Table{Columns: []table.Column{{Name: "case", Kind: table.Text}, {Name: "evaluations", Kind: table.Int}, {Name: "hypervolume", Kind: table.Float, Optional: true}}, Series: make([]table.Series, 3)}
		for seed := range int64(3) {
			name := fmt.Sprintf("x/%d", seed)
			cases, seeds, points = append(cases, name, name), append(seeds, seed, seed), append(points, [2]float64{0, 1}, [2]float64{1, 0})
			run.Cases = append(run.Cases, record.Case{Name: name, Evaluations: 48000, Feasible: 9, Front: 2, Known: 50, CoveredPct: 90})
			at := 0.498
			if seed == 2 {
				at = last
			}
			for k, v := range []float64{at, 0.5} {
				history.Rows++
				history.Series[0].Texts = append(history.Series[0].Texts, name)
				history.Series[1].Ints = append(history.Series[1].Ints, int64(38400+9600*k))
				history.Series[2].Floats, history.Series[2].Nulls = append(history.Series[2].Floats, v), append(history.Series[2].Nulls, false)
			}
		}
		for _, c := range trust(run, history, seedsFront(cases, seeds, points)) {
			if c.Settled != (last == 0.498) || c.Chosen != "of 50 found, with 90 % of their volume" {
				t.Errorf("%g, %s: %t, %q, %q", last, c.Name, c.Settled, c.Verdict, c.Chosen)
			}
		}
	}
}
