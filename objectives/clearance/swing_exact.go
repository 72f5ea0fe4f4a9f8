package clearance

import (
	"math"

	"forkfront/kinematics"
	"forkfront/kinematics/plane"
	"forkfront/objectives/scalar"
)

// polish moves the smallest gap found among the samples to the exact travel and steering angle at
// which it is smallest: where it changes with neither, or at an end of their ranges.
func (k *swinging) polish() {
	k.tried = append(k.tried[:0], k.at(k.best.sample)...)
	slope := k.stand(&k.best, &k.states[k.best.sample], k.tried)
	k.polished.Copy(&k.states[k.best.sample])
	other := k.best.sample + 1
	if slope > 0 {
		other = k.best.sample - 1
	}
	if slope == 0 || other < 0 || other > k.last {
		return
	}
	d := k.best
	further := k.stand(&d, &k.states[other], k.at(other))
	if slope*further >= 0 {
		return
	}
	from, to := k.states[k.best.sample].TravelMM, k.states[other].TravelMM
	zeroOf(from, to, slope, further, func(travel float64) float64 {
		if !k.motion.Solve(&k.trial, nil, travel) {
			return 0
		}
		c := k.best
		k.tried = kinematics.Positions(k.room.balls.m, k.tried[:0], &k.trial, k.layout)
		rate := k.stand(&c, &k.trial, k.tried)
		if c.gap <= k.best.gap {
			k.best = c
			k.polished.Copy(&k.trial)
		}
		return rate
	})
}

// stand measures a contact at a state, at the steering angle at which it is closest, and returns how
// fast the gap grows with travel.
func (k *swinging) stand(c *swung, st *kinematics.State[float64], places []plane.Vec[float64]) float64 {
	c.travelMM = st.TravelMM
	k.settle(c, places)
	k.moving = k.moving[:0]
	for point, at := range places {
		v := plane.Vec[float64]{}
		if body := k.room.carrier[point]; body >= 0 {
			v = scalar.Velocity(st, body, at)
		}
		k.moving = append(k.moving, plane.Vec[complex128]{Along: complex(at.Along, v.Along*scalar.Step), Ahead: complex(at.Ahead, v.Ahead*scalar.Step)})
	}
	sin, cos := math.Sincos(c.steer)
	return imag(swungGap(k.room, c, k.moving, complex(cos, 0), complex(sin, 0), 0)) / scalar.Step
}

// settle moves a contact to the steering angle at which its gap is smallest, within a step to either
// side: where it does not change with the angle, or at the lock.
func (k *swinging) settle(c *swung, places []plane.Vec[float64]) {
	low := -k.room.lock
	if k.room.balls.pairs[c.pair].oneSide {
		low = 0
	}
	k.moving = k.moving[:0]
	for _, at := range places {
		k.moving = append(k.moving, plane.Vec[complex128]{Along: complex(at.Along, 0), Ahead: complex(at.Ahead, 0)})
	}
	now, slope := k.steered(c, places, c.steer)
	by := 2 * k.room.lock / steerSteps
	if slope > 0 {
		by = -by
	}
	far := max(low, min(k.room.lock, c.steer+by))
	next, further := k.steered(c, places, far)
	*c = now
	if next.gap < c.gap {
		*c = next
	}
	if far == now.steer || slope*further >= 0 {
		return
	}
	zeroOf(now.steer, far, slope, further, func(steer float64) float64 {
		d, slope := k.steered(c, places, steer)
		if d.gap <= c.gap {
			*c = d
		}
		return slope
	})
}

// steered is a contact at a steering angle, and how fast its gap grows with that.
func (k *swinging) steered(c *swung, places []plane.Vec[float64], steer float64) (swung, float64) {
	d := *c
	d.steer = steer
	sin, cos := math.Sincos(steer)
	axis := axisOf(k.room.balls, places)
	d.gap = math.Sqrt(k.room.swungSquare(&d, places, &axis, cos, sin)) - k.around(d.pair)
	return d, imag(swungGap(k.room, &d, k.moving, complex(cos, -sin*scalar.Step), complex(sin, cos*scalar.Step), 0)) / scalar.Step
}

// swungSlope is the smallest gap with its derivative. Travel, steering angle and the spots of contact
// need none: the gap is smallest over all of them (envelope theorem).
func (sc *Search) swungSlope(by *Tangent) complex128 {
	c := &sc.swung
	by.Shadow.Differentiate(&sc.near, nil, &sc.atSwung, complex(c.travelMM, 0))
	sc.nearPlaces = kinematics.Positions(sc.m, sc.nearPlaces[:0], &sc.near, by.Layout)
	p := &sc.room.balls.pairs[c.pair]
	sin, cos := math.Sincos(c.steer)
	radii := radiusOf(&sc.room.parts[p.a], by.Members) + radiusOf(&sc.room.parts[p.b], by.Members)
	return swungGap(sc.room, c, sc.nearPlaces, complex(cos, 0), complex(sin, 0), radii)
}
