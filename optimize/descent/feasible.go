package descent

import (
	"context"
	"math"

	"forkfront/optimize/population"
)

// Where constraints bind, a run follows them: it goes down from feasible point to feasible point, each step the
// solution of a quadratic program with the constraints linearised, within a trust region (a method of feasible
// directions: Zoutendijk 1960; Bazaraa, Sherali and Shetty, Nonlinear Programming, ch. 10). A penalty method would leave
// the feasible region first, and a run's evaluations would end before its multipliers are right.
const (
	trustStart  = 0.08 // largest part of a variable's range that the first step may change
	trustMost   = 0.3
	trustLeast  = 1e-4
	trustShrink = 0.35
	trustGrow   = 2
)

// binds tells whether a constraint could be met within the first trust region of a point whose derivatives are known.
func (r *Run) binds(m *population.Member) bool {
	for i, g := range m.Outcome.G {
		reach := 0.0
		for _, j := range r.Space.Continuous() {
			reach += math.Abs(r.scaledSlope(i, j))
		}
		if g+trustStart*reach > 0 {
			return true
		}
	}
	return false
}

// scaledSlope is the derivative of constraint i by scaled variable j.
func (r *Run) scaledSlope(i, j int) float64 {
	v := &r.Space.Variables[j]
	return r.dg[i][j] * (v.High - v.Low)
}

// follow goes down from a feasible member, by quasi-Newton steps while no constraint is near, until the budget or the
// trust region is too small.
func (r *Run) follow(ctx context.Context, from *population.Member) {
	at, trust := from, trustStart
	q := newStepProgram(r)
	for free := true; ctx.Err() == nil && trust > trustLeast && r.affords(r.GradientCost+1); {
		if !r.meritSlope(q.grad, at) {
			return
		}
		if free && !r.binds(at) {
			free = false
			if r.minimise(ctx, at, q.grad); r.Best == nil || r.Best == at {
				return
			}
			at = r.Best
			continue
		}
		if !q.linearise(at) {
			return
		}
		next := r.step(q, at, &trust)
		if next == nil {
			return
		}
		at = next
	}
}

// meritSlope is slope without the terms of the constraints, which are still derived.
func (r *Run) meritSlope(grad []float64, m *population.Member) bool {
	penalty := r.penalty
	r.penalty = 0
	defer func() { r.penalty = penalty }()
	return r.gradient(grad, m)
}

// step returns a feasible point with less merit, nil where none is found: the program's solution, corrected once for the
// constraints' curvature, in ever smaller trust regions.
func (r *Run) step(q *stepProgram, at *population.Member, trust *float64) *population.Member {
	for ; *trust > trustLeast; *trust *= trustShrink {
		q.reset()
		q.solve(*trust)
		if q.small() {
			return nil
		}
		n := r.evaluate(q.moved(at))
		if n == nil {
			return nil
		}
		if !n.Feasible && q.correct(n) {
			q.solve(*trust)
			if n = r.evaluate(q.moved(at)); n == nil {
				return nil
			}
		}
		if n.Feasible && r.merit(n) < r.merit(at) {
			*trust = min(trustGrow**trust, trustMost)
			return n
		}
	}
	return nil
}
