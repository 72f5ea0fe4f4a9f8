package descent

import (
	"math"
	"math/rand/v2"
	"testing"

	"forkfront/optimize/problem"
)

// No random point of the trust region that meets the linearised constraints is better than the program's solution, which
// meets them too.
func TestStepProgramAgainstRandomPoints(t *testing.T) {
	rng := rand.New(rand.NewPCG(8, 8))
	const n, constraints, trust = 3, 3, 0.1
	compared, inexact := 0, 0
	for range 300 {
		vars := make([]problem.Variable, n)
		for i := range vars {
			vars[i].High = 1
		}
		q := newStepProgram(&Run{Settings: Settings{Space: &problem.Space{Variables: vars}, Constraints: constraints}})
		q.u = []float64{rng.Float64(), rng.Float64() * 0.05, 1}
		for j := range q.grad {
			q.grad[j] = rng.NormFloat64()
		}
		for i := range q.a {
			for j := range q.a[i] {
				q.a[i][j] = rng.NormFloat64()
			}
			q.values[i] = -0.05 * rng.Float64()
		}
		q.reset()
		q.solve(trust)
		value := func(d []float64) float64 {
			sum := 0.0
			for j, v := range d {
				sum += q.grad[j]*v + v*v/(2*q.t)
			}
			return sum
		}
		meets := func(d []float64, slack float64) bool {
			for i, row := range q.a {
				sum := q.c[i]
				for j, v := range d {
					sum += row[j] * v
				}
				if sum > slack {
					return false
				}
			}
			for j, v := range d {
				if math.Abs(v) > trust+1e-12 || q.u[j]+v < -1e-12 || q.u[j]+v > 1+1e-12 {
					return false
				}
			}
			return true
		}
		if !meets(q.d, edgeMargin) {
			inexact++
			continue
		}
		best := value(q.d)
		for range 2000 {
			d := make([]float64, n)
			for j := range d {
				d[j] = trust * (2*rng.Float64() - 1)
			}
			if !meets(d, 0) {
				continue
			}
			compared++
			if value(d) < best-1e-4*math.Abs(best)-1e-9 {
				t.Fatalf("step %v has %g, %v has %g", q.d, best, d, value(d))
			}
		}
	}
	if inexact > 30 { // multipliers one at a time converge slowly where constraints are nearly parallel
		t.Errorf("%d of 300 steps leave the constraints", inexact)
	}
	t.Logf("%d of 300 steps leave the constraints", inexact)
	if compared < 10000 {
		t.Errorf("only %d points compared", compared)
	}
}
