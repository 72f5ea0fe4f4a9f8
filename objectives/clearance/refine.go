package clearance

import (
	"math"

	"forkfront/kinematics/plane"
)

// cell is where a smaller gap is searched for: between two consecutive samples, and between two steering angles in
// rad.
type cell struct {
	from, to  int
	low, high float64
}

// refine finds the smallest gap in a cell, by a cubic through gaps and slopes at both samples and then by secants,
// with positions that are interpolated by cubics. The gap itself is that of the fork solved at the travel found.
func (k *pairSearch) refine(w *cell) {
	a, slope := k.travelDerivativeAt(w, w.from)
	if w.from == w.to || !(slope < 0) && k.current.step < 0 {
		return
	}
	b, further := k.travelDerivativeAt(w, w.to)
	if !(slope < 0) || !(further > 0) {
		return
	}
	way := k.states[w.to].TravelMM - k.states[w.from].TravelMM
	low := contact{gap: math.Inf(1)}
	at := func(part float64) float64 { return k.interpolate(w, part, &low) }
	part := cubicMinimum(a, b, slope*way, further*way)
	switch rate := at(part); {
	case math.Abs(rate) < 1e-9:
	case rate < 0:
		findZero(1, part, further, rate, at)
	default:
		findZero(0, part, slope, rate, at)
	}
	if !k.motion.Solve(&k.trial, nil, low.travelMM) {
		return
	}
	k.interpolated[0] = k.positionsOf(k.interpolated[0], &k.trial)
	k.measure(&low, k.interpolated[0])
	k.updateBest(&low)
}

// travelDerivativeAt evaluates the pair at one sample, and returns its gap and the derivative by travel.
func (k *pairSearch) travelDerivativeAt(w *cell, sample int) (gap, slope float64) {
	c := contact{pair: k.current.index, sample: sample, travelMM: k.states[sample].TravelMM}
	slope = k.travelDerivative(w, &c, k.positions(sample), k.velocities(sample))
	k.updateBest(&c)
	return c.gap, slope
}

// travelDerivative evaluates a contact at given positions, at the steering angle in the cell at which its gap is
// smallest, and returns the derivative by travel.
func (k *pairSearch) travelDerivative(w *cell, c *contact, spots, rates []plane.Vec[float64]) float64 {
	if c.steer, c.steerFound = w.low, k.current.step >= 0; c.steerFound {
		k.minimiseSteer(c, spots, w.low, w.high)
	}
	return k.slope(c, spots, rates)
}

// updateBest replaces the best contact by a smaller one.
func (k *pairSearch) updateBest(c *contact) {
	if c.gap < k.best.gap {
		k.best = *c
		k.current.limit = k.limit()
	}
}

// interpolate evaluates the pair at a fraction t between two samples, and records the smallest gap in low. The ends
// of its parts follow the cubic through positions and velocities at both samples, whose error is the fourth
// derivative of the path times the fourth power of the step over 384.
func (k *pairSearch) interpolate(w *cell, t float64, low *contact) float64 {
	x, y, v, z := k.positions(w.from), k.positions(w.to), k.velocities(w.from), k.velocities(w.to)
	from := k.states[w.from].TravelMM
	way := k.states[w.to].TravelMM - from
	k.interpolated[0], k.interpolated[1] = plane.Resize(k.interpolated[0], len(x)), plane.Resize(k.interpolated[1], len(x))
	u := 1 - t
	on, off, ahead, back := t*t*(3-2*t), u*u*(1+2*t), t*u*u*way, -t*t*u*way
	onRate, aheadRate, backRate := 6*t*u/way, u*(1-3*t), t*(3*t-2)
	p, q := &k.assembly.parts[k.current.a], &k.assembly.parts[k.current.b]
	for _, i := range [4]int{p.spots[0], p.spots[1], q.spots[0], q.spots[1]} {
		k.interpolated[0][i] = plane.Vec[float64]{
			Along: off*x[i].Along + on*y[i].Along + ahead*v[i].Along + back*z[i].Along,
			Ahead: off*x[i].Ahead + on*y[i].Ahead + ahead*v[i].Ahead + back*z[i].Ahead,
		}
		k.interpolated[1][i] = plane.Vec[float64]{
			Along: onRate*(y[i].Along-x[i].Along) + aheadRate*v[i].Along + backRate*z[i].Along,
			Ahead: onRate*(y[i].Ahead-x[i].Ahead) + aheadRate*v[i].Ahead + backRate*z[i].Ahead,
		}
	}
	c := contact{pair: k.current.index, sample: w.from, travelMM: from + t*way}
	slope := k.travelDerivative(w, &c, k.interpolated[0], k.interpolated[1])
	if c.gap < low.gap {
		*low = c
	}
	return slope
}

// cubicMinimum is the minimiser between 0 and 1 of the cubic with given values and slopes at both, which falls at 0
// and rises at 1 (Nocedal & Wright, Numerical Optimization, 3.59; recalled).
func cubicMinimum(a, b, sa, sb float64) float64 {
	t := sa + sb - 3*(b-a)
	root := math.Sqrt(max(0, t*t-sa*sb))
	at := 1 - (sb+root-t)/(sb-sa+2*root)
	if !(at > 0.02) || at > 0.98 {
		return sa / (sa - sb)
	}
	return at
}
