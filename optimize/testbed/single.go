package testbed

import "math"

// Single is a problem with one objective whose least value is known.
type Single struct {
	*Problem
	Best        float64
	Close       float64 // values up to this much above Best count as reached
	Evaluations int
}

// Singles returns the problems with one objective. The path of a four-bar and the constrained ones say where they are
// from; the functions without constraints are Rosenbrock's (1960), Rastrigin's (1974) and Ackley's (1987) in their
// usual form, each with its least value 0.
func Singles() []Single {
	return []Single{
		{Semicircle(), 2.58036, 1e-4, 50000},
		{Rosenbrock(10), 0, 1e-6, 50000},
		{Rastrigin(10), 0, 1e-6, 50000},
		{Ackley(10), 0, 1e-6, 50000},
		{G06(), -6961.81387558015, 1e-4, 20000},
		{G10(), 7049.24802052867, 1e-2, 100000},
		{WeldedBeamCost(), 1.724852308597, 1e-5, 20000},
	}
}

// Rosenbrock has one valley, bent and a thousand times as long as it is wide.
func Rosenbrock(n int) *Problem {
	return &Problem{
		Name: "Rosenbrock", Vars: box(n, -30, 30), M: 1,
		Eval: func(f, _, x []float64) {
			f[0] = 0
			for i := range x[1:] {
				a, b := x[i+1]-x[i]*x[i], 1-x[i]
				f[0] += 100*a*a + b*b
			}
		},
		Derivative: func(df, _ [][]float64, x []float64) {
			clear(df[0])
			for i := range x[1:] {
				a, b := x[i+1]-x[i]*x[i], 1-x[i]
				df[0][i] -= 400*a*x[i] + 2*b
				df[0][i+1] += 200 * a
			}
		},
	}
}

// Rastrigin has a local optimum at every point of a grid of integers.
func Rastrigin(n int) *Problem {
	return &Problem{
		Name: "Rastrigin", Vars: box(n, -5.12, 5.12), M: 1,
		Eval: func(f, _, x []float64) {
			f[0] = 0
			for _, v := range x {
				f[0] += v*v + 10 - 10*math.Cos(2*math.Pi*v)
			}
		},
		Derivative: func(df, _ [][]float64, x []float64) {
			for i, v := range x {
				df[0][i] = 2*v + 20*math.Pi*math.Sin(2*math.Pi*v)
			}
		},
	}
}

// Ackley is nearly flat except for a funnel around 0 whose sides are full of local optima.
func Ackley(n int) *Problem {
	return &Problem{
		Name: "Ackley", Vars: box(n, -32, 32), M: 1,
		Eval: func(f, _, x []float64) {
			squares, waves := 0.0, 0.0
			for _, v := range x {
				squares += v * v
				waves += math.Cos(2 * math.Pi * v)
			}
			m := float64(len(x))
			// Grouped so that the value at 0 is 0 to the last bit.
			f[0] = 20*(1-math.Exp(-0.2*math.Sqrt(squares/m))) + (math.E - math.Exp(waves/m))
		},
	}
}
