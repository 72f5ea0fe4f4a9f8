package testbed

import (
	"math"

	"forkfront/optimize/problem"
)

// G06 is a thin crescent between two circles (Floudas and Pardalos 1987; Liang et al., CEC 2006 competition, recalled);
// both constraints bind at the optimum, (14.095, 0.84296).
func G06() *Problem {
	return &Problem{
		Name: "G06", Vars: []problem.Variable{{Low: 13, High: 100}, {Low: 0, High: 100}}, M: 1, C: 2,
		Eval: func(f, g, x []float64) {
			a, b := x[0]-10, x[1]-20
			f[0] = a*a*a + b*b*b
			g[0] = (100 - (x[0]-5)*(x[0]-5) - (x[1]-5)*(x[1]-5)) / 100
			g[1] = ((x[0]-6)*(x[0]-6) + (x[1]-5)*(x[1]-5) - 82.81) / 82.81
		},
		Derivative: func(df, dg [][]float64, x []float64) {
			a, b := x[0]-10, x[1]-20
			df[0][0], df[0][1] = 3*a*a, 3*b*b
			dg[0][0], dg[0][1] = -2*(x[0]-5)/100, -2*(x[1]-5)/100
			dg[1][0], dg[1][1] = 2*(x[0]-6)/82.81, 2*(x[1]-5)/82.81
		},
	}
}

// G10 is the design of a heat exchanger network (Avriel and Williams 1971; CEC 2006, recalled); all six constraints
// bind at the optimum.
func G10() *Problem {
	vars := box(8, 10, 1000)
	vars[0] = problem.Variable{Low: 100, High: 10000}
	vars[1], vars[2] = problem.Variable{Low: 1000, High: 10000}, problem.Variable{Low: 1000, High: 10000}
	return &Problem{
		Name: "G10", Vars: vars, M: 1, C: 6,
		Eval: func(f, g, x []float64) {
			f[0] = x[0] + x[1] + x[2]
			g[0] = -1 + 0.0025*(x[3]+x[5])
			g[1] = -1 + 0.0025*(x[4]+x[6]-x[3])
			g[2] = -1 + 0.01*(x[7]-x[4])
			g[3] = (-x[0]*x[5] + 833.33252*x[3] + 100*x[0] - 83333.333) / 83333.333
			g[4] = (-x[1]*x[6] + 1250*x[4] + x[1]*x[3] - 1250*x[3]) / 1250000
			g[5] = (-x[2]*x[7] + 1250000 + x[2]*x[4] - 2500*x[4]) / 1250000
		},
	}
}

// WeldedBeamCost is the cost of a welded beam (Ragsdell and Phillips, J. Eng. Ind. 98 (1976) 1021, in the form of Deb,
// Comput. Methods Appl. Mech. Eng. 186 (2000) 311, with the polar moment of Coello, Comput. Ind. 41 (2000) 113, whose
// best known cost is 1.724852; recalled): weld thickness h, its length l, depth t and width b of the bar, in inches.
func WeldedBeamCost() *Problem {
	const load, length, young, shear = 6000, 14, 30e6, 12e6
	return &Problem{
		Name: "welded beam cost", M: 1, C: 5,
		Vars: []problem.Variable{{Low: 0.1, High: 2}, {Low: 0.1, High: 10}, {Low: 0.1, High: 10}, {Low: 0.1, High: 2}},
		Eval: func(f, g, x []float64) {
			h, l, t, b := x[0], x[1], x[2], x[3]
			f[0] = 1.10471*h*h*l + 0.04811*t*b*(length+l)
			radius := math.Sqrt(l*l/4 + (h+t)*(h+t)/4)
			polar := 2 * math.Sqrt2 * h * l * (l*l/12 + (h+t)*(h+t)/4)
			direct := load / (math.Sqrt2 * h * l)
			torsion := load * (length + l/2) * radius / polar
			stress := math.Sqrt(direct*direct + direct*torsion*l/radius + torsion*torsion)
			buckling := 4.013 * young * math.Sqrt(t*t*math.Pow(b, 6)/36) / (length * length) *
				(1 - t/(2*length)*math.Sqrt(young/(4*shear)))
			g[0] = stress/13600 - 1
			g[1] = 6*load*length/(b*t*t)/30000 - 1
			g[2] = (h - b) / 2
			g[3] = 4*load*length*length*length/(young*t*t*t*b)/0.25 - 1
			g[4] = 1 - buckling/load
		},
	}
}
