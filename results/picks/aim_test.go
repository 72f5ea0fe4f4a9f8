package picks

import (
	"testing"

	"forkfront/results/table"
)

// What an objective wants is worked out where a folder does not say it: a band that every candidate meets, and a
// measure whose best value is 0.
func TestAimFromNumbersAtZero(t *testing.T) {
	for _, x := range []struct {
		objective, measure []float64
		wants              string
	}{
		{[]float64{0, 0, 0}, []float64{10, 20, 15}, "band"},
		{[]float64{0, 0, 0}, []float64{-10, -20, -15}, "band"},
		{[]float64{0, 5, 3}, []float64{0, 5, 3}, "min"},
		{[]float64{0, 0, 0}, []float64{0, 0, 0}, "min"},
		{[]float64{-9, -5, -7}, []float64{9, 5, 7}, "max"},
		{[]float64{-8, -5, -7}, []float64{9, 5, 7}, "max"},
	} {
		if got := inferAim(&table.Series{Floats: x.objective}, &table.Series{Floats: x.measure}); got.Wants != x.wants {
			t.Errorf("%v of %v: %s, want %s", x.objective, x.measure, got.Wants, x.wants)
		}
	}
}
