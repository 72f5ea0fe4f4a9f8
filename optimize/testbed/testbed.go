// Package testbed holds published multi-objective problems whose true fronts are known, so
// that a search can be measured.
//
// Sources: ZDT from Zitzler, Deb, Thiele, Evol. Comput. 8 (2000) 173; DTLZ from Deb,
// Thiele, Laumanns, Zitzler, CEC 2002; BNH, SRN, TNK from Deb, Multi-Objective
// Optimization Using Evolutionary Algorithms (2001), ch. 8; all recalled.
package testbed

import (
	"math"

	"forkfront/optimize/problem"
)

// Problem is a published problem.
type Problem struct {
	Name         string
	Vars         []problem.Variable
	M            int
	C            int
	Ideal, Nadir []float64 // of the true front
	Volume       float64   // of the true front, normalised to Ideal 0 and Nadir 1, below 1.1 in each
	Eval         func(f, g, x []float64)
	Derivative   func(df, dg [][]float64, x []float64) // nil: none
}

func (p *Problem) Variables() []problem.Variable { return p.Vars }

func (p *Problem) Objectives() []problem.Objective { return make([]problem.Objective, p.M) }

func (p *Problem) Constraints() []string { return make([]string, p.C) }

func (p *Problem) Evaluate(dst *problem.Outcome, x []float64) { p.Eval(dst.F, dst.G, x) }

// Gradient is exact where the problem has a derivative.
func (p *Problem) Gradient(df, dg [][]float64, x []float64) bool {
	if p.Derivative == nil {
		return false
	}
	p.Derivative(df, dg, x)
	return true
}

// Share is the part of the true front's volume that the candidates dominate.
func (p *Problem) Share(front []problem.Candidate) float64 {
	points := make([][]float64, len(front))
	for i, c := range front {
		points[i] = c.F
	}
	return normalised(points, p.Ideal, p.Nadir) / p.Volume
}

func box(n int, low, high float64) []problem.Variable {
	vars := make([]problem.Variable, n)
	for i := range vars {
		vars[i] = problem.Variable{Low: low, High: high}
	}
	return vars
}

func fill(m int, v float64) []float64 {
	out := make([]float64, m)
	for i := range out {
		out[i] = v
	}
	return out
}

func tail(x []float64) float64 {
	sum := 0.0
	for _, v := range x[1:] {
		sum += v
	}
	return 1 + 9*sum/float64(len(x)-1)
}

// ZDT1 has a convex front, f2 = 1 − √f1; its volume is 0.1 + 2/3 + 0.11.
func ZDT1() *Problem {
	return &Problem{
		Name: "ZDT1", Vars: box(30, 0, 1), M: 2, Ideal: fill(2, 0), Nadir: fill(2, 1), Volume: 0.21 + 2.0/3,
		Eval: func(f, _, x []float64) {
			g := tail(x)
			f[0], f[1] = x[0], g*(1-math.Sqrt(x[0]/g))
		},
		Derivative: func(df, _ [][]float64, x []float64) {
			g, n := tail(x), float64(len(x)-1)
			clear(df[0])
			df[0][0] = 1
			root := math.Sqrt(max(x[0], 1e-300) / g)
			df[1][0] = -0.5 / root
			for i := 1; i < len(x); i++ {
				df[1][i] = 9 / n * (1 - 0.5*root)
			}
		},
	}
}

// ZDT2 has a concave front, f2 = 1 − f1²; its volume is 0.1 + 1/3 + 0.11.
func ZDT2() *Problem {
	return &Problem{
		Name: "ZDT2", Vars: box(30, 0, 1), M: 2, Ideal: fill(2, 0), Nadir: fill(2, 1), Volume: 0.21 + 1.0/3,
		Eval: func(f, _, x []float64) {
			g := tail(x)
			f[0], f[1] = x[0], g*(1-x[0]/g*x[0]/g)
		},
		Derivative: func(df, _ [][]float64, x []float64) {
			g, n := tail(x), float64(len(x)-1)
			clear(df[0])
			df[0][0] = 1
			df[1][0] = -2 * x[0] / g
			for i := 1; i < len(x); i++ {
				df[1][i] = 9 / n * (1 + x[0]*x[0]/(g*g))
			}
		},
	}
}

// ZDT4 is ZDT1's front behind 21⁹ local ones.
func ZDT4() *Problem {
	vars := box(10, -5, 5)
	vars[0] = problem.Variable{Low: 0, High: 1}
	return &Problem{
		Name: "ZDT4", Vars: vars, M: 2, Ideal: fill(2, 0), Nadir: fill(2, 1), Volume: 0.21 + 2.0/3,
		Eval: func(f, _, x []float64) {
			g := 1 + 10*float64(len(x)-1)
			for _, v := range x[1:] {
				g += v*v - 10*math.Cos(4*math.Pi*v)
			}
			f[0], f[1] = x[0], g*(1-math.Sqrt(x[0]/g))
		},
	}
}

// BNH has two constraints that hardly bind; its set is x1 = x2 up to 3, then x2 = 3.
func BNH() *Problem {
	eval := func(f, g, x []float64) {
		f[0] = 4*x[0]*x[0] + 4*x[1]*x[1]
		f[1] = (x[0]-5)*(x[0]-5) + (x[1]-5)*(x[1]-5)
		g[0] = ((x[0]-5)*(x[0]-5) + x[1]*x[1] - 25) / 25
		g[1] = (7.7 - (x[0]-8)*(x[0]-8) - (x[1]+3)*(x[1]+3)) / 7.7
	}
	p := &Problem{
		Name: "BNH", Vars: []problem.Variable{{Low: 0, High: 5}, {Low: 0, High: 3}}, M: 2, C: 2,
		Ideal: []float64{0, 4}, Nadir: []float64{136, 50}, Eval: eval,
		Derivative: func(df, dg [][]float64, x []float64) {
			df[0][0], df[0][1] = 8*x[0], 8*x[1]
			df[1][0], df[1][1] = 2*(x[0]-5), 2*(x[1]-5)
			dg[0][0], dg[0][1] = 2*(x[0]-5)/25, 2*x[1]/25
			dg[1][0], dg[1][1] = -2*(x[0]-8)/7.7, -2*(x[1]+3)/7.7
		},
	}
	p.Volume = curve(p.Ideal, p.Nadir, 100000, func(t float64) (float64, float64) {
		x := []float64{5 * t, min(5*t, 3)}
		f, g := make([]float64, 2), make([]float64, 2)
		eval(f, g, x)
		return f[0], f[1]
	})
	return p
}

// DTLZ2 has an eighth (in three objectives) of the unit sphere as its front.
func DTLZ2(m int) *Problem {
	n := m + 9
	return &Problem{
		Name: "DTLZ2", Vars: box(n, 0, 1), M: m, Ideal: fill(m, 0), Nadir: fill(m, 1),
		Volume: math.Pow(1.1, float64(m)) - orthant(m),
		Eval: func(f, _, x []float64) {
			sphere(f, x, 1+bowl(x[m-1:]))
		},
		Derivative: func(df, _ [][]float64, x []float64) {
			sphereSlope(df, x, 1+bowl(x[m-1:]), func(i int) float64 { return 2 * (x[i] - 0.5) })
		},
	}
}

// bowl is DTLZ2's distance, 0 where every variable is 1/2.
func bowl(x []float64) float64 {
	g := 0.0
	for _, v := range x {
		g += (v - 0.5) * (v - 0.5)
	}
	return g
}

func sphere(f, x []float64, r float64) {
	m := len(f)
	for i := range f {
		f[i] = r
		for _, v := range x[:m-1-i] {
			f[i] *= math.Cos(v * math.Pi / 2)
		}
		if i > 0 {
			f[i] *= math.Sin(x[m-1-i] * math.Pi / 2)
		}
	}
}

// sphereSlope is the derivative of sphere, where dr is that of r by a distance variable.
func sphereSlope(df [][]float64, x []float64, r float64, dr func(i int) float64) {
	m := len(df)
	for i := range df {
		part := 1.0 // f[i] / r
		for k := range m - 1 {
			part *= factor(i, k, m, x[k], 0)
		}
		for k := range x {
			if k >= m-1 {
				df[i][k] = part * dr(k)
				continue
			}
			df[i][k] = r
			for j := range m - 1 {
				turn := 0
				if j == k {
					turn = 1
				}
				df[i][k] *= factor(i, j, m, x[j], turn)
			}
		}
	}
}

// factor is what position variable k contributes to objective i of m on a sphere, or its
// derivative when turn is 1.
func factor(i, k, m int, v float64, turn int) float64 {
	sin, cos := math.Sincos(v * math.Pi / 2)
	switch {
	case k < m-1-i && turn == 0:
		return cos
	case k < m-1-i:
		return -math.Pi / 2 * sin
	case k > m-1-i || i == 0:
		return float64(1 - turn)
	case turn == 0:
		return sin
	}
	return math.Pi / 2 * cos
}

// orthant is the volume of the unit ball's positive part: π^(m/2) / Γ(m/2+1) / 2^m.
func orthant(m int) float64 {
	half := float64(m) / 2
	return math.Pow(math.Pi, half) / math.Gamma(half+1) / math.Pow(2, float64(m))
}
