package testbed

import (
	"math"

	"forkfront/optimize/problem"
)

// The turns of ZDT follow Igel, Hansen and Roth, Evol. Comput. 15 (2007) 1, who turn ZDT4 and ZDT6 by an orthogonal
// matrix that leaves the first variable alone, so that the front stays; recalled.

// ZDT1Turned is ZDT1 with its distance variables, measured from 1/2, turned: g = 1 + 9 Σ |z| / (n − 1), z = Q (x − 1/2).
// The absolute values stand for ZDT1's lower bounds, at which its front lies and which a turn would put out of reach.
func ZDT1Turned() *Problem {
	p := ZDT1()
	q := orthogonal(len(p.Vars)-1, TurnSeed)
	p.Name = "ZDT1 turned"
	p.Eval = func(f, _, x []float64) {
		sum := 0.0
		for _, row := range q {
			sum += math.Abs(along(row, x[1:], 0.5))
		}
		g := 1 + 9*sum/float64(len(q))
		f[0], f[1] = x[0], g*(1-math.Sqrt(x[0]/g))
	}
	p.Derivative = nil
	return p
}

// along is the part of x, measured from a centre that is the same for each variable, along a direction.
func along(direction, x []float64, centre float64) float64 {
	sum := 0.0
	for i, d := range direction {
		sum += d * (x[i] - centre)
	}
	return sum
}

// turned is a problem with all of its variables, scaled to 0…1 and measured from the middle, turned:
// y = 1/2 + Q (x − 1/2). The bounds of y become constraints, two per variable, and those of x are where the box of y
// reaches, so that set and front are those of the problem.
func turned(p *Problem) *Problem {
	n, own := len(p.Vars), p.C
	vars, eval := p.Vars, p.Eval
	q := orthogonal(n, TurnSeed)
	p.Name, p.C, p.Derivative = p.Name+" turned", own+2*n, nil
	p.Vars = make([]problem.Variable, n)
	for j := range p.Vars {
		half := 0.0
		for i := range q {
			half += math.Abs(q[i][j]) / 2
		}
		p.Vars[j] = problem.Variable{Low: 0.5 - half, High: 0.5 + half}
	}
	p.Eval = func(f, g, x []float64) {
		y := make([]float64, n)
		for i, v := range vars {
			s := 0.5 + along(q[i], x, 0.5)
			g[own+2*i], g[own+2*i+1] = -s, s-1
			y[i] = v.Low + min(max(s, 0), 1)*(v.High-v.Low)
		}
		eval(f, g[:own], y)
	}
	return p
}

// OSYTurned is OSY turned.
func OSYTurned() *Problem { return turned(OSY()) }
