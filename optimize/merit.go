package optimize

import "math"

// merit is the one number a run brings down.
//
// Towards an end it is that objective plus a fiftieth of the others, in spans. Below a
// corner it is −Σ log((corner − f)/span): the box between point and corner has the
// largest volume where this is least, and unlike the volume of a whole front it is smooth.
// +Inf outside the corner, or where an objective has no value.
func (r *localSearch) merit(m *member) float64 {
	sum := 0.0
	for i, f := range m.outcome.F {
		if math.IsInf(f, 1) {
			return f
		}
		switch {
		case r.reference == nil || len(r.span) == 1:
			sum += r.weight(i) * f / r.span[i]
		case f >= r.reference[i]:
			return math.Inf(1)
		default:
			sum -= math.Log((r.reference[i] - f) / r.span[i])
		}
	}
	return sum
}

func (r *localSearch) weight(i int) float64 {
	if i == r.extreme || len(r.span) == 1 {
		return 1
	}
	return 0.02
}

// lagrangian is merit plus the augmented terms of the constraints (Powell–Hestenes–
// Rockafellar form): Σ (max(0, λ + ρ g)² − λ²) / 2ρ.
func (r *localSearch) lagrangian(m *member) float64 {
	sum := r.merit(m)
	for i, g := range m.outcome.G {
		l := r.multiplier[i]
		pushed := max(0, l+r.penalty*(g+constraintMargin))
		sum += (pushed*pushed - l*l) / (2 * r.penalty)
	}
	return sum
}

// gradient writes the Lagrangian's derivative by the scaled variables and reports whether
// there is one. It costs what a gradient costs.
func (r *localSearch) gradient(grad []float64, m *member) bool {
	if !r.affords(r.gradientCost) || math.IsInf(r.merit(m), 1) || !r.fillDerivatives(m) {
		return false
	}
	clear(grad)
	for i, f := range m.outcome.F {
		factor := r.weight(i) / r.span[i]
		if r.reference != nil && len(r.span) > 1 {
			factor = 1 / (r.reference[i] - f)
		}
		r.accumulate(grad, r.df[i], factor)
	}
	for i, g := range m.outcome.G {
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

func (r *localSearch) accumulate(grad, row []float64, factor float64) {
	for _, i := range r.space.continuous() {
		v := &r.space.variables[i]
		grad[i] += factor * row[i] * (v.High - v.Low)
	}
}

// fillDerivatives fills df and dg at m, from the problem or by forward differences.
func (r *localSearch) fillDerivatives(m *member) bool {
	if !r.exact {
		return r.forwardDifferences(m)
	}
	r.spentExact += r.gradientCost
	known := false
	ok := r.catchPanic(func() { known = r.problem.(Differentiable).Gradient(r.df, r.dg, m.x) })
	if ok && !known && r.singleObjective() { // a descent goes a long way and must not end at the first point without derivatives
		r.exact, r.gradientCost = false, float64(len(r.space.continuous()))
		return r.forwardDifferences(m)
	}
	return ok && known
}

// descentRange is the step of differences, in ranges: an ill-conditioned valley needs better gradients than a front.
const descentRange = 1e-7

// forwardDifferences steps each variable by 1e-6 of its range, inwards; with one objective see descentRange.
func (r *localSearch) forwardDifferences(m *member) bool {
	u := append([]float64(nil), m.u...)
	for _, i := range r.space.continuous() {
		step := 1e-6
		if r.singleObjective() {
			step = descentRange
		}
		if u[i] > 0.5 {
			step = -step
		}
		u[i] += step
		n := r.evaluate(u)
		u[i] = m.u[i]
		if n == nil {
			return false
		}
		dx := n.x[i] - m.x[i]
		for k := range r.df {
			r.df[k][i] = (n.outcome.F[k] - m.outcome.F[k]) / dx
		}
		for k := range r.dg {
			r.dg[k][i] = (n.outcome.G[k] - m.outcome.G[k]) / dx
		}
	}
	return true
}
