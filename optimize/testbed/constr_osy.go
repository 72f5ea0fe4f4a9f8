package testbed

import (
	"math"

	"forkfront/optimize/problem"
)

// CONSTR has a front of two parts: on the first constraint, f2 = 7/f1 − 9, from f1 = 7/18,
// where the second one meets it, to 2/3; then, free, f2 = 1/f1 to f1 = 1.
func CONSTR() *Problem {
	p := &Problem{
		Name: "CONSTR", Vars: []problem.Variable{{Low: 0.1, High: 1}, {Low: 0, High: 5}}, M: 2, C: 2,
		Eval: func(f, g, x []float64) {
			f[0], f[1] = x[0], (1+x[1])/x[0]
			g[0], g[1] = (6-x[1]-9*x[0])/6, 1+x[1]-9*x[0]
		},
	}
	return p.along(200000, func(t float64) (float64, float64) {
		x := 7.0/18 + t*(1-7.0/18)
		return x, (1 + max(0, 6-9*x)) / x
	})
}

// OSY has a front of five parts, each on other constraints, with x4 = x6 = 0 throughout.
func OSY() *Problem {
	vars := box(6, 0, 10)
	vars[2], vars[3], vars[4] = problem.Variable{Low: 1, High: 5}, problem.Variable{High: 6}, problem.Variable{Low: 1, High: 5}
	p := &Problem{Name: "OSY", Vars: vars, M: 2, C: 6, Eval: osy, Derivative: osySlope}
	f, g := make([]float64, 2), make([]float64, 6)
	return p.along(500000, func(t float64) (float64, float64) {
		osy(f, g, osySet(t))
		return f[0], f[1]
	})
}

func osy(f, g, x []float64) {
	f[0], f[1] = -25*(x[0]-2)*(x[0]-2), 0
	for i, from := range []float64{2, 1, 4, 1} {
		f[0] -= (x[i+1] - from) * (x[i+1] - from)
	}
	for _, v := range x {
		f[1] += v * v
	}
	g[0] = (2 - x[0] - x[1]) / 2
	g[1] = (x[0] + x[1] - 6) / 6
	g[2] = (x[1] - x[0] - 2) / 2
	g[3] = (x[0] - 3*x[1] - 2) / 2
	g[4] = ((x[2]-3)*(x[2]-3) + x[3] - 4) / 4
	g[5] = (4 - (x[4]-3)*(x[4]-3) - x[5]) / 4
}

func osySlope(df, dg [][]float64, x []float64) {
	df[0][0], df[0][5] = -50*(x[0]-2), 0
	for i, from := range []float64{2, 1, 4, 1} {
		df[0][i+1] = -2 * (x[i+1] - from)
	}
	for i, v := range x {
		df[1][i] = 2 * v
	}
	for i, row := range [][]float64{
		{-1.0 / 2, -1.0 / 2, 0, 0, 0, 0},
		{1.0 / 6, 1.0 / 6, 0, 0, 0, 0},
		{-1.0 / 2, 1.0 / 2, 0, 0, 0, 0},
		{1.0 / 2, -3.0 / 2, 0, 0, 0, 0},
		{0, 0, (x[2] - 3) / 2, 1.0 / 4, 0, 0},
		{0, 0, 0, 0, -(x[4] - 3) / 2, -1.0 / 4},
	} {
		copy(dg[i], row)
	}
}

// osySet goes through the five parts of the set, t from 0 to 1. The published ends of the
// third and fourth part, x1 = 4.056 and x3 = 3.732, are where the other part begins to
// dominate; here both continue beyond, and that is left to the domination.
func osySet(t float64) []float64 {
	part := min(math.Floor(5*t), 4)
	s := 5*t - part
	switch part {
	case 0:
		return []float64{5, 1, 5 - 4*s, 0, 5, 0}
	case 1:
		return []float64{5, 1, 1 + 4*s, 0, 1, 0}
	case 2:
		x := 2 + 3*s
		return []float64{x, (x - 2) / 3, 1, 0, 1, 0}
	case 3:
		return []float64{0, 2, 1 + 4*s, 0, 1, 0}
	}
	return []float64{s, 2 - s, 1, 0, 1, 0}
}
