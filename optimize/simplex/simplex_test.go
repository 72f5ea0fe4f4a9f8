package simplex

import (
	"math"
	"testing"
)

// A tilted bowl with its bottom at (1, −2), and Rosenbrock's valley (Comput. J. 3, 1960) from (−1.2, 1) to (1, 1).
func TestDescendFindsTheBottom(t *testing.T) {
	bowl := func(x []float64) float64 {
		a, b := x[0]-1, x[1]+2
		return a*a + 4*b*b + a*b + 3
	}
	valley := func(x []float64) float64 {
		a, b := 1-x[0], x[1]-x[0]*x[0]
		return a*a + 100*b*b
	}
	for _, c := range []struct {
		f          func(x []float64) float64
		start      []float64
		most       int
		at         [2]float64
		value, off float64
	}{
		{bowl, []float64{0, 0}, 60, [2]float64{1, -2}, 3, 0.02},
		{valley, []float64{-1.2, 1}, 400, [2]float64{1, 1}, 0, 0.05},
	} {
		calls := 0
		at, value := Descend(func(x []float64) float64 { calls++; return c.f(x) }, c.start, 0.2, c.most)
		if math.Hypot(at[0]-c.at[0], at[1]-c.at[1]) > c.off || value-c.value > 1e-3 || value != c.f(at) {
			t.Errorf("%v with %g, want %v with %g", at, value, c.at, c.value)
		}
		if calls > c.most+5 {
			t.Errorf("%d evaluations of %d", calls, c.most)
		}
	}
}

// A start that cannot be improved is the answer.
func TestDescendStaysAtTheBottom(t *testing.T) {
	at, value := Descend(func(x []float64) float64 { return math.Abs(x[0]) + math.Abs(x[1]) }, []float64{0, 0}, 0.1, 30)
	if at[0] != 0 || at[1] != 0 || value != 0 {
		t.Errorf("%v with %g", at, value)
	}
}
