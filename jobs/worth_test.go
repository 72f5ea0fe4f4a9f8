package jobs

import (
	"bytes"
	"context"
	"flag"
	"math"
	"slices"
	"testing"

	"forkfront/optimize"
)

var worth = flag.Int("worth", 0, "seeds on which to measure what the gradient stage is worth on the demo; 0: not at all")

var times = flag.Int("times", 1, "budget of that measurement, in those of the demo")

// What the gradient stage is worth: the hypervolume of the demo's fronts with it and without it, at
// equal evaluations, in the box that all fronts of a case span. A measurement, not a check.
func TestWorthOfTheGradientStage(t *testing.T) {
	if *worth == 0 {
		t.Skip("measured only when asked for: go test ./jobs -run Worth -worth 7 -v")
	}
	job, _, err := ReadJob("demo", bytes.NewReader(Demo()), knownMeasure, measureNames())
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range job.Cases() {
		var fronts [2][][][]float64
		for seed := range *worth {
			for with := range 2 {
				s := job.settings(c, 0)
				s.Evaluations *= *times
				s.Seed, s.FrontSize, s.GradientShare = uint64(100+seed), 150, job.GradientShare*float64(with)
				r, err := optimize.Search(context.Background(), c.Problem(), s)
				if err != nil {
					t.Fatal(err)
				}
				fronts[with] = append(fronts[with], values(r.Front))
			}
		}
		low, high := span(slices.Concat(slices.Concat(fronts[0]...), slices.Concat(fronts[1]...)))
		var share [2][]float64
		for with := range 2 {
			for _, f := range fronts[with] {
				share[with] = append(share[with], volume(f, low, high))
			}
			slices.Sort(share[with])
		}
		t.Logf("%s: without %.4f (%.4f–%.4f), with %.4f (%.4f–%.4f)", c.Name,
			share[0][*worth/2], share[0][0], share[0][*worth-1], share[1][*worth/2], share[1][0], share[1][*worth-1])
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
func volume(front [][]float64, low, high []float64) float64 {
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
	return optimize.Hypervolume(scaled, reference) / box
}
