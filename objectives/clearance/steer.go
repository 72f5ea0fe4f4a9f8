package clearance

import (
	"math"

	"forkfront/kinematics/plane"
	"forkfront/kinematics/solid"
)

// sweep looks at a pair over travel and steering angle, where neither is known beforehand.
func (k *clearing) sweep(i int) {
	n := &k.now
	if k.take(i, 0); !(n.limit > 0) {
		return
	}
	from, to := 0, k.last
	if n.rigid {
		to = 0
	}
	low := k.lowStep()
	c := corners{{k.turned(from, low), k.turned(from, steerSteps)}, {k.turned(to, low), k.turned(to, steerSteps)}}
	n.near = math.Sqrt(n.limit)
	k.cell(from, to, low, steerSteps, &c)
}

// lowStep is the first step that has to be looked at: straight ahead where the other side is the mirror
// image.
func (k *clearing) lowStep() int {
	if k.now.oneSide {
		return steerSteps / 2
	}
	return 0
}

// turned looks at the pair at a sample and a step.
func (k *clearing) turned(sample, step int) float64 {
	k.now.step = step
	return k.look(sample)
}

// cell halves a range of samples and of steps of steering until nothing in it can be closer than the
// smallest gap so far, as between does for samples alone.
func (k *clearing) cell(from, to, low, high int, c *corners) {
	n := &k.now
	sway, turn := 0.0, k.turn(low, high)
	if from < to {
		skew := k.skew(from, to, low, high)
		sway, turn = k.sway(from, to)+skew, turn+skew
	}
	if above(min(c[0][0], c[1][0]), min(c[0][1], c[1][1]), turn)-sway/8 >= n.limit {
		return
	}
	switch {
	case to-from <= 1 && high-low <= 1:
		k.narrow(&nook{from, to, k.room.steer(low), k.room.steer(high)})
	case to-from > 1 && (sway > turn || high-low <= 1):
		mid := (from + to) / 2
		m := [2]float64{k.turned(mid, low), k.turned(mid, high)}
		k.cell(from, mid, low, high, &corners{c[0], m})
		k.cell(mid, to, low, high, &corners{m, c[1]})
	default:
		mid := (low + high) / 2
		a := k.turned(from, mid)
		b := a
		if from < to {
			b = k.turned(to, mid)
		}
		k.cell(from, to, low, mid, &corners{{c[0][0], a}, {c[1][0], b}})
		k.cell(from, to, mid, high, &corners{{a, c[0][1]}, {b, c[1][1]}})
	}
}

// turn is the curvature that the square of the distance of two spots may have between two steps of
// steering, over the square of the angle: twice the product of their distances from the steering axis,
// which differ by no more than √limit where they matter.
func (k *clearing) turn(low, high int) float64 {
	n := &k.now
	angle := k.angle(low, high)
	p, q := k.reach(), k.room.turned[n.frame].reach
	return 2 * min(p, q+n.near) * min(q, p+n.near) * angle * angle
}

// skew is twice the mixed derivative by travel and steering angle over a cell: turning moves only what
// is ahead or to the left.
func (k *clearing) skew(from, to, low, high int) float64 {
	n := &k.now
	p := &k.room.parts[n.a]
	x, y := k.at(from), k.at(to)
	way := max(math.Abs(y[p.spots[0]].Ahead-x[p.spots[0]].Ahead), math.Abs(y[p.spots[1]].Ahead-x[p.spots[1]].Ahead))
	return 2 * min(k.room.turned[n.frame].reach, k.reach()+n.near) * way * k.angle(low, high)
}

func (k *clearing) angle(low, high int) float64 {
	return 2 * k.room.lock / steerSteps * float64(high-low)
}

// reach is how far from the steering axis the first part gets; a wheel with its rim.
func (k *clearing) reach() float64 {
	p, b := &k.room.parts[k.now.a], &k.bounds[k.now.a]
	ahead := math.Abs(b.middle.Ahead) + b.half.Ahead
	if p.wheel {
		return ahead + k.room.ring.RadiusMM
	}
	return math.Hypot(ahead, max(math.Abs(p.left()), math.Abs(p.right())))
}

// turnedBy is a part of the frame as what steers sees it.
func (r *Room) turnedBy(p *pair, steer float64) solid.Segment[float64] {
	sin, cos := math.Sincos(steer)
	ends := &r.parts[r.turned[p.frame].part].ends
	g := solid.Segment[float64]{ends[0].shift, ends[1].shift}
	return g.Turned(cos, -sin)
}

// settleSteer moves a contact to the steering angle between two at which its gap is smallest: where it
// does not change with the angle, or at one of them.
func (k *clearing) settleSteer(c *contact, spots []plane.Vec[float64], low, high float64) {
	at := func(steer float64) (contact, float64) {
		d := *c
		d.steer = steer
		b := k.measure(&d, spots)
		n, spot := k.normal(&d, spots, &b)
		return d, n.Ahead*spot.Left - n.Left*spot.Ahead
	}
	from, slope := at(low)
	to, further := at(high)
	*c = from
	if to.gap < from.gap {
		*c = to
	}
	if slope >= 0 || further <= 0 {
		return
	}
	zeroOf(low, high, slope, further, func(steer float64) float64 {
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
