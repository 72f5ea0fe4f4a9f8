package descent

import (
	"math"

	"forkfront/optimize/population"
	"forkfront/optimize/problem"
)

// merit is the one number a run brings down.
//
// Towards an end it is that objective plus a fiftieth of the others, in spans. Below a
// corner it is −Σ log((corner − f)/span): the box between point and corner has the
// largest volume where this is least, and unlike the volume of a whole front it is smooth.
// +Inf outside the corner, or where an objective has no value.
func (r *Run) merit(m *population.Member) float64 {
	sum := 0.0
	for i, f := range m.Outcome.F {
		if math.IsInf(f, 1) {
			return f
		}
		switch {
		case r.Reference == nil || len(r.Span) == 1:
			sum += r.weight(i) * f / r.Span[i]
		case f >= r.Reference[i]:
			return math.Inf(1)
		default:
			sum -= math.Log((r.Reference[i] - f) / r.Span[i])
		}
	}
	return sum
}

func (r *Run) weight(i int) float64 {
	if i == r.Extreme || len(r.Span) == 1 {
		return 1
	}
	return 0.02
}

// lagrangian is merit plus the augmented terms of the constraints (Powell–Hestenes–
// Rockafellar form): Σ (max(0, λ + ρ g)² − λ²) / 2ρ.
func (r *Run) lagrangian(m *population.Member) float64 {
	sum := r.merit(m)
	for i, g := range m.Outcome.G {
		l := r.multiplier[i]
		pushed := max(0, l+r.penalty*(g+constraintMargin))
		sum += (pushed*pushed - l*l) / (2 * r.penalty)
	}
	return sum
}

// gradient writes the Lagrangian's derivative by the scaled variables and reports whether
// there is one. It costs what a gradient costs.
func (r *Run) gradient(grad []float64, m *population.Member) bool {
	if !r.affords(r.GradientCost) || math.IsInf(r.merit(m), 1) || !r.fillDerivatives(m) {
		return false
	}
	clear(grad)
	for i, f := range m.Outcome.F {
		factor := r.weight(i) / r.Span[i]
		if r.Reference != nil && len(r.Span) > 1 {
			factor = 1 / (r.Reference[i] - f)
		}
		r.accumulate(grad, r.df[i], factor)
	}
	for i, g := range m.Outcome.G {
		if pushed := r.multiplier[i] + r.penalty*(g+constraintMargin); pushed > 0 {
			r.accumulate(grad, r.dg[i], pushed)
		}
	}
	for _, v := range grad {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return false
		}
	}
	return true
}

func (r *Run) accumulate(grad, row []float64, factor float64) {
	for _, i := range r.Space.Continuous() {
		v := &r.Space.Variables[i]
		grad[i] += factor * row[i] * (v.High - v.Low)
	}
}

// fillDerivatives fills df and dg at m, from the problem or by forward differences.
func (r *Run) fillDerivatives(m *population.Member) bool {
	if !r.Exact {
		return r.forwardDifferences(m)
	}
	r.spentExact += r.GradientCost
	known := false
	ok := r.catchPanic(func() { known = r.problem.(problem.Differentiable).Gradient(r.df, r.dg, m.X) })
	if ok && !known && r.singleObjective() { // a descent goes a long way and must not end at the first point without derivatives
		r.Exact, r.GradientCost = false, float64(len(r.Space.Continuous()))
		return r.forwardDifferences(m)
	}
	return ok && known
}

// descentRange is the step of differences, in ranges: an ill-conditioned valley needs better gradients than a front.
const descentRange = 1e-7

// forwardDifferences steps each variable by 1e-6 of its range, inwards; with one objective see descentRange.
func (r *Run) forwardDifferences(m *population.Member) bool {
	u := append([]float64(nil), m.U...)
	for _, i := range r.Space.Continuous() {
		step := 1e-6
		if r.singleObjective() {
			step = descentRange
		}
		if u[i] > 0.5 {
			step = -step
		}
		u[i] += step
		n := r.evaluate(u)
		u[i] = m.U[i]
		if n == nil {
			return false
		}
		dx := n.X[i] - m.X[i]
		for k := range r.df {
			r.df[k][i] = (n.Outcome.F[k] - m.Outcome.F[k]) / dx
		}
		for k := range r.dg {
			r.dg[k][i] = (n.Outcome.G[k] - m.Outcome.G[k]) / dx
		}
	}
	return true
}
