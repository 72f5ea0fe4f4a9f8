package variation

import (
	"math"
	"math/rand/v2"
	"testing"

	"forkfront/optimize/matrix"
	"forkfront/optimize/population"
	"forkfront/optimize/problem"
	"forkfront/optimize/random"
)

// flat is a problem of linear objectives and constraints: their slopes are the rows.
type flat struct {
	variables   int
	f, g        [][]float64
	constraints []float64 // value at the origin
}

func (p *flat) Variables() []problem.Variable {
	all := make([]problem.Variable, p.variables)
	for i := range all {
		all[i].High = 1
	}
	return all
}
func (p *flat) Objectives() []problem.Objective { return make([]problem.Objective, len(p.f)) }
func (p *flat) Constraints() []string           { return make([]string, len(p.g)) }
func (p *flat) Evaluate(dst *problem.Outcome, x []float64) {
	for i, row := range p.f {
		dst.F[i] = matrix.Dot(row, x)
	}
	for i, row := range p.g {
		dst.G[i] = p.constraints[i] + matrix.Dot(row, x)
	}
}

func newFlat(rng *rand.Rand, variables, objectives, constraints int) *flat {
	p := &flat{variables: variables, constraints: make([]float64, constraints)}
	rows := func(n int) [][]float64 {
		all := matrix.Zeros(n, variables)
		for _, row := range all {
			for j := range row {
				row[j] = 2*rng.Float64() - 1
			}
		}
		return all
	}
	p.f, p.g = rows(objectives), rows(constraints)
	return p
}

// strewn evaluates random members of a problem.
func strewn(p problem.Problem, rng *rand.Rand, n int) (*breeder, []*population.Member) {
	b := newBreeder(&problem.Space{Variables: p.Variables()}, len(p.Objectives()), random.New(1, random.Variation))
	members := population.New(n, len(p.Variables()), len(p.Objectives()), len(p.Constraints()))
	for _, m := range members {
		for j := range m.U {
			m.U[j] = rng.Float64()
		}
		b.space.Natural(m.X, m.U)
		p.Evaluate(&m.Outcome, m.X)
		m.Sanitise()
	}
	return &b, members
}

// Of linear functions the slopes are the coefficients, and of what has no value at the member they are 0.
func TestSlopesOfLinearFunctions(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	for range 20 {
		p := newFlat(rng, 5, 2, 3)
		b, members := strewn(p, rng, 40)
		members[0].Outcome.F[1] = math.Inf(1)
		s := &b.slopes
		var known crowd
		known.fill(members[:20], members[20:])
		if !s.fit(b.space, members[0], &known) {
			t.Fatal("no slopes")
		}
		s.solve(members[0], &known, 0)
		for i, want := range append(append([][]float64{p.f[0]}, make([]float64, 5)), p.g...) {
			for j, v := range want {
				if math.Abs(s.of[i][j]-v) > 1e-6 {
					t.Errorf("slope %d of row %d is %g, want %g", j, i, s.of[i][j], v)
				}
			}
		}
	}
}

// A projected step meets the constraints, and no other one that does is nearer to where it came from.
func TestProjectedStepIsTheNearest(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	moved := 0
	for range 50 {
		p := newFlat(rng, 3, 2, 4)
		for i := range p.constraints {
			p.constraints[i] = -matrix.Dot(p.g[i], []float64{0.5, 0.5, 0.5}) - 0.1*rng.Float64() // the middle is allowed
		}
		b, members := strewn(p, rng, 30)
		at := members[0]
		var known crowd
		known.fill(members)
		if !b.slopes.fit(b.space, at, &known) {
			t.Fatal("no slopes")
		}
		b.slopes.solve(at, &known, 0)
		from, d := make([]float64, 3), make([]float64, 3)
		for j := range d {
			from[j] = 1.5 * (rng.Float64() - 0.5)
		}
		copy(d, from)
		b.project(d, at)
		gap := func(d []float64) float64 {
			sum := 0.0
			for j := range d {
				sum += (d[j] - from[j]) * (d[j] - from[j])
			}
			return math.Sqrt(sum)
		}
		if gap(d) > 1e-9 {
			moved++
		}
		var reached problem.Outcome
		reached.F, reached.G = make([]float64, 2), make([]float64, 4)
		place := func(d []float64) []float64 { return []float64{at.U[0] + d[0], at.U[1] + d[1], at.U[2] + d[2]} }
		p.Evaluate(&reached, place(d))
		for i, g := range reached.G {
			if g > 0.005 {
				t.Errorf("constraint %d is missed by %g", i, g)
			}
		}
		const close = 0.03 // the margin, and steps cut short
		for range 2000 {
			other := make([]float64, 3)
			for j := range other {
				other[j] = rng.Float64() - at.U[j]
			}
			if p.Evaluate(&reached, place(other)); reached.Feasible() && gap(other) < gap(d)-close {
				t.Errorf("%v is at %g from %v, %v at %g", d, gap(d), from, other, gap(other))
			}
		}
	}
	if moved < 25 {
		t.Errorf("only %d steps were moved: the check is idle", moved)
	}
}

// Where constraints are linear an infeasible member leads to a feasible child at once, though only 0.14 % of the box is allowed.
func TestInfeasibleMemberIsLedBack(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 6))
	p := newFlat(rng, 6, 2, 1)
	p.g[0] = []float64{1, 1, 1, 1, 1, 1}
	p.constraints[0] = -1
	b, members := strewn(p, rng, 60)
	led := 0
	for _, m := range members {
		if m.Feasible {
			continue
		}
		child := population.New(1, 6, 2, 1)[0]
		b.alongSlopes(child, m, &matingPool{parents: members})
		b.space.Natural(child.X, child.U)
		p.Evaluate(&child.Outcome, child.X)
		if child.Sanitise(); !child.Feasible {
			t.Errorf("%v leads to %v, which is too much by %g", m.U, child.U, child.Outcome.G[0])
		}
		led++
	}
	if led < 50 {
		t.Errorf("only %d members are infeasible", led)
	}
}
