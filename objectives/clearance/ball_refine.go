package clearance

import (
	"math"

	"forkfront/kinematics/mechanism"
	"forkfront/kinematics/plane"
	"forkfront/kinematics/stance"
	"forkfront/objectives/scalar"
)

// refine moves the smallest gap found among the samples to the exact travel and steering angle at which it is
// smallest: where its derivatives vanish, or at an end of their ranges.
func (k *ballSearch) refine() {
	k.trialPositions = append(k.trialPositions[:0], k.fork.positions(k.best.sample)[:k.assembly.points]...)
	slope := k.travelDerivative(&k.best, &k.states[k.best.sample], k.trialPositions)
	k.bestState.Copy(&k.states[k.best.sample])
	other := k.best.sample + 1
	if slope > 0 {
		other = k.best.sample - 1
	}
	if slope == 0 || other < 0 || other > k.last {
		return
	}
	d := k.best
	further := k.travelDerivative(&d, &k.states[other], k.fork.positions(other)[:k.assembly.points])
	if slope*further >= 0 {
		return
	}
	from, to := k.states[k.best.sample].TravelMM, k.states[other].TravelMM
	findZero(from, to, slope, further, func(travel float64) float64 {
		if !k.motion.Solve(&k.trial, nil, travel) {
			return 0
		}
		c := k.best
		k.trialPositions = mechanism.Positions(k.assembly.balls.m, k.trialPositions[:0], &k.trial, k.layout)
		rate := k.travelDerivative(&c, &k.trial, k.trialPositions)
		if c.gap <= k.best.gap {
			k.best = c
			k.bestState.Copy(&k.trial)
		}
		return rate
	})
}

// travelDerivative evaluates a contact at a state, at the steering angle at which its gap is smallest, and returns
// the derivative of the gap by travel.
func (k *ballSearch) travelDerivative(c *ballContact, st *stance.State[float64], positions []plane.Vec[float64]) float64 {
	c.travelMM = st.TravelMM
	k.minimiseSteer(c, positions)
	k.tangents = k.tangents[:0]
	for point, at := range positions {
		v := plane.Vec[float64]{}
		if body := k.assembly.carrier[point]; body >= 0 {
			v = scalar.Velocity(st, body, at)
		}
		k.tangents = append(k.tangents, plane.Vec[complex128]{Along: complex(at.Along, v.Along*scalar.Step), Ahead: complex(at.Ahead, v.Ahead*scalar.Step)})
	}
	sin, cos := math.Sincos(c.steer)
	return imag(ballGap(k.assembly, c, k.tangents, complex(cos, 0), complex(sin, 0), 0)) / scalar.Step
}

// minimiseSteer moves a contact to the steering angle at which its gap is smallest, within one step on either side:
// where the derivative by the angle vanishes, or at the lock.
func (k *ballSearch) minimiseSteer(c *ballContact, positions []plane.Vec[float64]) {
	low := -k.assembly.lock
	if k.assembly.balls.pairs[c.pair].symmetric {
		low = 0
	}
	k.tangents = k.tangents[:0]
	for _, at := range positions {
		k.tangents = append(k.tangents, plane.Vec[complex128]{Along: complex(at.Along, 0), Ahead: complex(at.Ahead, 0)})
	}
	now, slope := k.steerDerivative(c, positions, c.steer)
	by := 2 * k.assembly.lock / steerSteps
	if slope > 0 {
		by = -by
	}
	far := max(low, min(k.assembly.lock, c.steer+by))
	next, further := k.steerDerivative(c, positions, far)
	*c = now
	if next.gap < c.gap {
		*c = next
	}
	if far == now.steer || slope*further >= 0 {
		return
	}
	findZero(now.steer, far, slope, further, func(steer float64) float64 {
		d, slope := k.steerDerivative(c, positions, steer)
		if d.gap <= c.gap {
			*c = d
		}
		return slope
	})
}

// steerDerivative returns a contact at a steering angle, and the derivative of its gap by that angle, in mm/rad.
func (k *ballSearch) steerDerivative(c *ballContact, positions []plane.Vec[float64], steer float64) (ballContact, float64) {
	d := *c
	d.steer = steer
	sin, cos := math.Sincos(steer)
	axis := axisOf(k.assembly.balls, positions)
	d.gap = math.Sqrt(k.assembly.ballDistance2(&d, positions, &axis, cos, sin)) - k.radii(d.pair)
	return d, imag(ballGap(k.assembly, &d, k.tangents, complex(cos, -sin*scalar.Step), complex(sin, cos*scalar.Step), 0)) / scalar.Step
}
