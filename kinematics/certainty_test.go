package kinematics

import (
	"math"
	"math/rand/v2"
	"testing"
)

// slopes are the derivatives of the equations by the unknowns where they stand, column by column.
func (e *loopEquations[T]) slopes() [][]T {
	n := e.v.unknowns
	e.lu.Reset(n)
	for k, s := range e.v.loops {
		e.rows(s, 2*k, 2*k+1)
	}
	e.rows(e.v.axle, n-1, -1)
	all := make([][]T, n)
	for k := range all {
		all[k] = make([]T, n)
		for i := range n {
			all[k][i] = *e.lu.At(i, k)
		}
	}
	return all
}

// The bound of the curvature against derivatives at pairs of positions within the ball, |Γ (F′(x) − F′(y))| ≤ K |x − y| in the norm
// of the weights; and it is no idle bound.
func TestDerivativesChangeByNoMoreThanTheCurvature(t *testing.T) {
	r := rand.New(rand.NewPCG(17, 4))
	c := cargo()
	for i := range kinds {
		k := &kinds[i]
		m := mustCompile(t, k.spec)
		closest := 0.0
		for n := range 8 {
			layout := laidOut(m, c, k.drawn(r, 2*float64(n)))
			var at continuation
			if !at.begin(m, layout) || !at.reach(kindTravel*r.Float64()) {
				continue
			}
			at.certify()
			ball := 2 * at.certain
			bound := at.curvature(ball)
			if !(ball*bound <= 1) {
				t.Fatalf("%s: the ball of %g is larger than the bound of %g allows", m.Name, ball, bound)
			}
			for range 15 {
				var two [2][][]float64
				var apart []float64
				scale := r.Float64()
				for side := range two {
					var there loopEquations[float64]
					there.set(m, layout)
					copy(there.cos, at.cos)
					copy(there.sin, at.sin)
					copy(there.way, at.way)
					by := make([]float64, at.v.unknowns)
					for u, w := range at.weight {
						by[u] = ball * w * max(-1, min(1, scale*r.NormFloat64()))
						if at.v.slides[u] {
							continue
						}
						sin, cos := math.Sincos(by[u])
						there.cos[u], there.sin[u] = there.cos[u]*cos-there.sin[u]*sin, there.sin[u]*cos+there.cos[u]*sin
					}
					for u := range by {
						if at.v.slides[u] {
							there.way[u] += by[u]
						}
					}
					there.turnTerms()
					two[side] = there.slopes()
					if side == 0 {
						apart = by
						continue
					}
					for u := range by {
						apart[u] -= by[u]
					}
				}
				far := 0.0
				for u, d := range apart {
					far = math.Max(far, math.Abs(d)/at.weight[u])
				}
				changed := make([]float64, at.v.unknowns)
				for u, column := range two[0] {
					for i := range column {
						column[i] -= two[1][u][i]
					}
					at.lu.Solve(column)
					for i, x := range column {
						changed[i] += math.Abs(x) * at.weight[u] / at.weight[i]
					}
				}
				for _, x := range changed {
					if x > bound*far*(1+1e-9) {
						t.Fatalf("%s: the derivatives change by %g over %g, the bound is %g", m.Name, x, far, bound)
					}
					closest = math.Max(closest, x/(bound*far))
				}
			}
		}
		if closest < 0.3 {
			t.Errorf("%s: the derivatives change by %g of what the bound allows at most", m.Name, closest)
		}
		t.Logf("%s: %.3f of the bound", m.Name, closest)
	}
}
