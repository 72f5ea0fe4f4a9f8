package jobs

import (
	"context"
	"flag"
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"forkfront/jobs/cases"
	"forkfront/jobs/files"
	"forkfront/jobs/run"
	"forkfront/optimize"
	"forkfront/optimize/volume"
)

var worth = flag.Int("worth", 0, "seeds on which to measure what the gradient stage is worth on the demo; 0: not at all")

var times = flag.Float64("times", 1, "budget of that measurement, in those of the demo")

// rivals are searches that are compared with each other.
var rivals = []struct {
	name   string
	budget int
	set    func(s *optimize.Settings)
}{
	{"without the gradient stage", 1, func(s *optimize.Settings) { s.GradientShare = 0 }},
	{"with it", 1, func(*optimize.Settings) {}},
	{"only reference directions and binary crossover, 4 times the evaluations", 4, func(s *optimize.Settings) { s.GradientShare, s.Plain = 0, true }},
}

// What the search is worth on the demo: the hypervolume of its fronts with the gradient stage and
// without it at equal evaluations, and that of a plain search with four times as many, in the box that all
// fronts of a case span. A measurement, not a check.
func TestWorthOfTheSearch(t *testing.T) {
	if *worth == 0 {
		t.Skip("measured only when asked for: go test ./jobs -run Worth -worth 7 -v")
	}
	job, _, err := files.ReadJob("demo", strings.NewReader(plainDemo()))
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range cases.Cases(job) {
		fronts, took := make([][][][]float64, len(rivals)), make([]time.Duration, len(rivals))
		var all [][]float64
		for seed := range *worth {
			for i, rival := range rivals {
				s := run.Settings(job, c, 0)
				s.Evaluations = int(float64(s.Evaluations*rival.budget) * *times)
				s.Seed, s.FrontSize = uint64(100+seed), 100
				rival.set(&s)
				from := time.Now()
				r, err := optimize.Search(context.Background(), c.Problem(), s)
				if err != nil {
					t.Fatal(err)
				}
				took[i] += time.Since(from)
				fronts[i] = append(fronts[i], values(r.Front))
				all = append(all, values(r.Front)...)
			}
		}
		low, high := span(all)
		for i, rival := range rivals {
			var shares []float64
			for _, f := range fronts[i] {
				shares = append(shares, shareOf(f, low, high))
			}
			slices.Sort(shares)
			n := len(shares)
			t.Logf("%s: %s: median %.4f, quartiles %.4f and %.4f, %.1f s a search", c.Name, rival.name, shares[n/2], shares[n/4], shares[3*n/4], took[i].Seconds()/float64(n))
		}
	}
}

func values(front []optimize.Candidate) [][]float64 {
	var all [][]float64
	for i := range front {
		all = append(all, front[i].F)
	}
	return all
}

func span(points [][]float64) (low, high []float64) {
	low, high = slices.Clone(points[0]), slices.Clone(points[0])
	for _, p := range points {
		for k, x := range p {
			low[k], high[k] = math.Min(low[k], x), math.Max(high[k], x)
		}
	}
	return low, high
}

// volume is the share of the box from the ideal to 1.1 of the way to the nadir.
func shareOf(front [][]float64, low, high []float64) float64 {
	var scaled [][]float64
	reference := make([]float64, len(low))
	box := 1.0
	for k := range reference {
		reference[k] = 1.1
		box *= 1.1
	}
	for _, p := range front {
		q := make([]float64, len(p))
		for k := range p {
			q[k] = (p[k] - low[k]) / math.Max(high[k]-low[k], 1e-12)
		}
		scaled = append(scaled, q)
	}
	return volume.Hypervolume(scaled, reference) / box
}
