package variation

import (
	"math"
	"testing"
)

// Where two constraints are straight the first of them is met exactly; one without a value says nothing.
func TestCrossingIsWhereTheFirstConstraintIsMet(t *testing.T) {
	for _, c := range []struct {
		from, to []float64
		want     float64
	}{
		{[]float64{-1, -2}, []float64{3, 2}, 0.25},
		{[]float64{-3, -1}, []float64{3, 3}, 0.25},
		{[]float64{-1, -1}, []float64{-5, 1}, 0.5},
		{[]float64{0, -1}, []float64{1, 1}, 0},
		{[]float64{-1, -1}, []float64{math.Inf(1), -1}, 1},
	} {
		if got := crossing(c.from, c.to); got != c.want {
			t.Errorf("from %v to %v: %g, want %g", c.from, c.to, got, c.want)
		}
	}
}
