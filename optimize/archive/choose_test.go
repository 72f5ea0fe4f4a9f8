package archive

import (
	"math"
	"testing"

	"forkfront/optimize/population"
	"forkfront/optimize/problem"
)

// Areas by hand, with the reference at 1.1: (0, 1) and (1, 0) dominate 0.11 + 0.11 - 0.01 = 0.21, (0.5, 0.5) 0.36, and all of them
// together 0.36 + 0.21 - 0.11 = 0.46, in whatever units, and the same with a third objective in which all are equal.
func TestWhatTheChosenCover(t *testing.T) {
	for _, scale := range []float64{1, 1e-3, 1e6} {
		for _, more := range [][]float64{nil, {0}} {
			var all []*population.Member
			for _, p := range [][2]float64{{0, 1}, {1, 0}, {0.5, 0.5}} {
				all = append(all, &population.Member{Outcome: problem.Outcome{F: append([]float64{7 + scale*p[0], scale * p[1]}, more...)}})
			}
			for i, want := range []float64{0, 0.11 / 0.46, 0.21 / 0.46, 1} {
				if got := Covered(all, all[:i]); math.Abs(got-want) > 0.02 {
					t.Errorf("scale %g, %d objectives: the first %d cover %.3f, want %.3f", scale, 2+len(more), i, got, want)
				}
			}
			if got := Covered(all, all[2:]); math.Abs(got-0.36/0.46) > 0.02 {
				t.Errorf("scale %g: the middle covers %.3f, want %.3f", scale, got, 0.36/0.46)
			}
		}
	}
	if got := Covered(nil, nil); got != 0 {
		t.Errorf("nothing covers %g", got)
	}
}
