package testbed

import (
	"math"
	"math/cmplx"
	"slices"
	"testing"
)

// In a parallelogram the coupler stays parallel to the ground link, so that the tracer goes round a circle of the
// crank's length: the sum of squares in closed form.
func TestSemicircleOfAParallelogram(t *testing.T) {
	x := []float64{8, 4, 8, 4, 3, -2, 1.5, 2.5, 0.7}
	want := 0.0
	for i, target := range semicirclePoints {
		at := complex(1.5, 2.5) + cmplx.Rect(1, 0.7)*(cmplx.Rect(4, float64(i+1)*math.Pi/6)+complex(3, -2))
		want += real((at - target) * cmplx.Conj(at-target))
	}
	out := evaluated(Semicircle(), x)
	if math.Abs(out.F[0]-want) > 1e-9*want {
		t.Errorf("%.12g, want %.12g", out.F[0], want)
	}
	if !out.Feasible() {
		t.Errorf("a parallelogram is on the limit of Grashof's condition, but has %v", out.G)
	}
	if out := evaluated(Semicircle(), []float64{10, 9, 6, 6, 0, 0, 0, 0, 0}); out.Feasible() {
		t.Errorf("a crank of 9 with links of 10, 6 and 6 is allowed: %v", out.G)
	}
	if out := evaluated(Semicircle(), []float64{50, 20, 5, 5, 0, 0, 0, 0, 0}); !math.IsInf(out.F[0], 1) {
		t.Errorf("links that do not reach have %g", out.F[0])
	}
}

// The published optima, with the digits that were printed (recalled): the value, and that the constraints hold.
func TestSinglesAtTheirOptima(t *testing.T) {
	for _, c := range []struct {
		p    *Problem
		x    []float64
		want float64
		tol  float64
	}{
		{Rosenbrock(10), fill(10, 1), 0, 0},
		{Rastrigin(10), fill(10, 0), 0, 0},
		{Ackley(10), fill(10, 0), 0, 0},
		{G06(), []float64{14.095, 0.84296}, -6961.81388, 0.02},
		{G10(), []float64{579.3066850, 1359.9706781, 5109.9706573, 182.0176996, 295.6011737, 217.9823003, 286.4165259, 395.6011737}, 7049.248020529, 1e-4},
		{WeldedBeamCost(), []float64{0.205730, 3.470489, 9.036624, 0.205730}, 1.724852, 1e-5},
	} {
		out := evaluated(c.p, c.x)
		if math.Abs(out.F[0]-c.want) > c.tol {
			t.Errorf("%s: %.10g, want %.10g", c.p.Name, out.F[0], c.want)
		}
		for i, g := range out.G {
			if g > 1e-4 {
				t.Errorf("%s: constraint %d is %g at the published optimum", c.p.Name, i, g)
			}
		}
	}
}

func TestSingleDerivatives(t *testing.T) {
	for _, c := range []struct {
		p *Problem
		x []float64
	}{
		{Semicircle(), []float64{40, 10, 25, 30, 7, -4, 3, 5, 1}},
		{Rosenbrock(3), []float64{1.5, -0.5, 2}},
		{Rastrigin(2), []float64{0.3, -1.2}},
		{G06(), []float64{15, 2}},
	} {
		df, dg := [][]float64{make([]float64, len(c.x))}, make([][]float64, c.p.C)
		for k := range dg {
			dg[k] = make([]float64, len(c.x))
		}
		if !c.p.Gradient(df, dg, c.x) {
			t.Fatalf("%s: no derivative", c.p.Name)
		}
		for i := range c.x {
			const h = 1e-5
			low, high := slices.Clone(c.x), slices.Clone(c.x)
			low[i], high[i] = c.x[i]-h, c.x[i]+h
			a, b := evaluated(c.p, low), evaluated(c.p, high)
			differ := func(row float64, a, b float64) {
				if d := (b - a) / (2 * h); !(math.Abs(row-d) < 1e-5*(1+math.Abs(d))) {
					t.Errorf("%s, variable %d: %g, by differences %g", c.p.Name, i, row, d)
				}
			}
			differ(df[0][i], a.F[0], b.F[0])
			for k := range dg {
				differ(dg[k][i], a.G[k], b.G[k])
			}
		}
	}
}
