package objectives

import (
	"math"

	"forkfront/kinematics"
)

// sweep looks for the smallest gap between a part that steers and one of the frame, over travel and
// steering angle.
func (k *clearing) sweep(i int) {
	p := &k.room.pairs[i]
	lo, hi, from := 0, k.last, 0
	if k.room.parts[p.a].still {
		lo, hi = k.last/2, k.last/2
	}
	if p.oneSide {
		from = steerSteps / 2
	}
	k.cell(i, lo, hi, from, steerSteps)
}

// cell halves a range of samples and of steps of steering until nothing in it can be closer than the
// smallest gap so far. A gap changes no faster than the parts move: with travel by their sway, with
// steering by their distance from the axis.
func (k *clearing) cell(i, lo, hi, from, to int) {
	p := &k.room.pairs[i]
	sample, step := (lo+hi)/2, (from+to)/2
	part := &k.room.parts[p.a]
	way := arc * max(k.sway(part, sample, lo), k.sway(part, sample, hi))
	angle := 2 * k.room.lock / steerSteps * float64(to-step)
	frame := &k.room.turned[p.frame]
	if part.wheel && k.aroundWheel(p, sample, step)-way-angle*min(frame.reach, k.balls[p.a].reach) >= k.best.gap {
		return
	}
	turn := angle * min(frame.reach, k.reach(p.a))
	if k.look(i, sample, step)-way-turn >= k.best.gap {
		return
	}
	switch {
	case hi-lo <= 1 && to-from <= 1:
		if hi > lo {
			k.look(i, hi, step)
		}
		if to > from {
			k.look(i, lo, to)
			k.look(i, hi, to)
		}
	case hi-lo > 1 && (way > turn || to-from <= 1):
		k.cell(i, lo, sample, from, to)
		k.cell(i, sample, hi, from, to)
	default:
		k.cell(i, lo, hi, from, step)
		k.cell(i, lo, hi, step, to)
	}
}

// reach is how far from the steering axis a part gets; a wheel with its rim.
func (k *clearing) reach(part int) float64 {
	if k.room.parts[part].wheel {
		return k.balls[part].reach + k.room.ring.RadiusMM + k.room.tube
	}
	return k.balls[part].reach
}

// aroundWheel is no more than the gap of a pair: that to a ball around the wheel.
func (k *clearing) aroundWheel(p *pair, sample, step int) float64 {
	axle := k.at(sample)[k.room.parts[0].ends[0].point]
	spot := kinematics.Spot[float64]{Along: axle.Along, Ahead: axle.Ahead}
	g := k.room.turned[p.frame].at[step]
	_, _, square := kinematics.Closest(&g, &kinematics.Segment[float64]{spot, spot})
	return math.Sqrt(square) - k.room.ring.RadiusMM - k.room.tube - k.radii[p.a] - k.radii[p.b]
}

// turnedBy is a part of the frame as what steers sees it.
func (r *Room) turnedBy(p *pair, steer float64) kinematics.Segment[float64] {
	sin, cos := math.Sincos(steer)
	g := segmentOf[float64](&r.parts[p.b], nil)
	return g.Turned(cos, -sin)
}

// settleSteer moves a contact to the steering angle at which its gap is smallest, within a step to
// either side: where it does not change with the angle, or at the lock.
func (k *clearing) settleSteer(c *contact, places []kinematics.Vec[float64]) {
	p := &k.room.pairs[c.pair]
	at := func(steer float64) (contact, float64) {
		d := *c
		d.steer = steer
		b := k.room.turnedBy(p, steer)
		k.measure(&d, places, &b)
		n, spot, _ := k.normal(&d, places, &b)
		return d, n.Ahead*spot.Left - n.Left*spot.Ahead
	}
	low := -k.room.lock
	if p.oneSide {
		low = 0
	}
	now, slope := at(c.steer)
	step := 2 * k.room.lock / steerSteps
	if slope > 0 {
		step = -step
	}
	far := math.Max(low, math.Min(k.room.lock, c.steer+step))
	next, further := at(far)
	*c = now
	if next.gap < c.gap {
		*c = next
	}
	if far == now.steer || slope*further >= 0 {
		return
	}
	zeroOf(now.steer, far, slope, further, func(steer float64) float64 {
		d, slope := at(steer)
		if d.gap <= c.gap {
			*c = d
		}
		return slope
	})
}

// zeroOf closes in on where a slope between a and b vanishes, by the secant method kept within its
// bracket (Illinois variant).
func zeroOf(a, b, fa, fb float64, slope func(float64) float64) {
	for range 20 {
		at := b - fb*(b-a)/(fb-fa)
		f := slope(at)
		if f*fb < 0 {
			a, fa = b, fb
		} else {
			fa /= 2
		}
		b, fb = at, f
		if math.Abs(f) < 1e-9 || fa == fb {
			return
		}
	}
}
