package report

import (
	"math"
	"strings"
	"testing"

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
// together 0.36 + 0.21 - 0.11 = 0.46, in whatever units. A search without another seed is compared with nothing.
func TestSeedsAreCompared(t *testing.T) {
	for _, scale := range []float64{1, 1e-3, 1e6} {
		front := seedsFront([]string{"x/1", "x/1", "x/2", "y/1"}, []int64{1, 1, 2, 1}, [][2]float64{{7, scale}, {7 + scale, 0}, {7 + scale/2, scale / 2}, {0, 0}})
		got := agreements(front)
		if len(got) != 2 || math.Abs(got["x/1"].Adds-100*(0.46/0.21-1)) > 6 || math.Abs(got["x/2"].Adds-100*(0.46/0.36-1)) > 1.5 || got["x/1"].Others != 1 {
			t.Errorf("scale %g: %+v, want 119 and 27.8 %% within the error of so many samples", scale, got)
		}
	}
}

func TestEqualFrontsAddNothing(t *testing.T) {
	points := [][2]float64{{0, 3}, {1, 1}, {3, 0}}
	front := seedsFront([]string{"x/1", "x/1", "x/1", "x/20", "x/20", "x/20"}, []int64{1, 1, 1, 20, 20, 20}, append(points, points...))
	if got := agreements(front); len(got) != 2 || got["x/1"].Adds != 0 || got["x/20"].Adds != 0 {
		t.Errorf("%+v", got)
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
		{true, true, agreement{1, 1.5}, "settled: ", "another seed adds 1.5 %, and twice the evaluations are likely to bring 0.75 to 3 %"},
		{true, false, agreement{2, 8}, "not settled: another seed adds 8 %", "(the last fifth of the evaluations added 0.4 % of hypervolume)"},
		{false, false, agreement{1, 1.5}, "still growing: the last fifth of the evaluations added 10 %", "; another seed adds 1.5 %"},
		{false, false, agreement{1, 20}, "not settled: another seed adds 20 %", "bring 10 to 40 % (the last fifth of the evaluations added 10 % of hypervolume)"},
	} {
		c := caseTrust{Evaluations: 24000}
		c.converged(steps[x.flat])
		c.agree(x.others)
		if c.Settled != x.settled || !strings.HasPrefix(c.Verdict, x.begins) || !strings.Contains(c.Verdict, x.says) {
			t.Errorf("%+v: %t, %q", x, c.Settled, c.Verdict)
		}
	}
}

// Short searches have more to come than long ones.
func TestTwiceTheEvaluationsBringMoreToShortSearches(t *testing.T) {
	a := agreement{1, 4}
	if short, long := a.twice(23999), a.twice(24000); short != "6 to 24 %" || long != "2 to 8 %" {
		t.Errorf("%s and %s", short, long)
	}
}
