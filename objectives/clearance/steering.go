package clearance

import (
	"math"

	"forkfront/kinematics/plane"
	"forkfront/kinematics/solid"
)

// searchSteering searches a pair over travel and steering angle, where neither is known beforehand.
func (k *pairSearch) searchSteering(i int) {
	n := &k.current
	if k.load(i, 0); !(n.limit > 0) {
		return
	}
	from, to := 0, k.last
	if n.rigid {
		to = 0
	}
	low := k.firstStep()
	c := corners{{k.evaluateStep(from, low), k.evaluateStep(from, steerSteps)}, {k.evaluateStep(to, low), k.evaluateStep(to, steerSteps)}}
	n.limitRoot = math.Sqrt(n.limit)
	k.bisectCell(from, to, low, steerSteps, &c)
}

// firstStep is the first steering step of the pair: straight ahead if the other side is its mirror image.
func (k *pairSearch) firstStep() int {
	if k.current.symmetric {
		return steerSteps / 2
	}
	return 0
}

// evaluateStep evaluates the pair at a sample and a steering step.
func (k *pairSearch) evaluateStep(sample, step int) float64 {
	k.current.step = step
	return k.evaluate(sample)
}

// bisectCell divides a cell of samples and steering steps until nothing in it can be closer than the smallest gap so
// far, as bisect does for samples.
func (k *pairSearch) bisectCell(from, to, low, high int, c *corners) {
	n := &k.current
	sway, turn := 0.0, k.steerCurvature(low, high)
	if from < to {
		mixed := k.mixedCurvature(from, to, low, high)
		sway, turn = k.travelCurvature(from, to)+mixed, turn+mixed
	}
	if parabolaMinimum(min(c[0][0], c[1][0]), min(c[0][1], c[1][1]), turn)-sway/8 >= n.limit {
		return
	}
	switch {
	case to-from <= 1 && high-low <= 1:
		k.refine(&cell{from, to, k.assembly.steerAngle(low), k.assembly.steerAngle(high)})
	case to-from > 1 && (sway > turn || high-low <= 1):
		mid := (from + to) / 2
		m := [2]float64{k.evaluateStep(mid, low), k.evaluateStep(mid, high)}
		k.bisectCell(from, mid, low, high, &corners{c[0], m})
		k.bisectCell(mid, to, low, high, &corners{m, c[1]})
	default:
		mid := (low + high) / 2
		a := k.evaluateStep(from, mid)
		b := a
		if from < to {
			b = k.evaluateStep(to, mid)
		}
		k.bisectCell(from, to, low, mid, &corners{{c[0][0], a}, {c[1][0], b}})
		k.bisectCell(from, to, mid, high, &corners{{a, c[0][1]}, {b, c[1][1]}})
	}
}

// steerCurvature is a bound on the second derivative of the squared distance by the fraction of the angle between two
// steering steps: twice the product of the distances of both points from the steering axis, which differ by no more
// than √limit where they matter, times the square of the angle.
func (k *pairSearch) steerCurvature(low, high int) float64 {
	n := &k.current
	angle := k.angle(low, high)
	p, q := k.axisDistance(), k.assembly.frameParts[n.frame].axisDistance
	return 2 * min(p, q+n.limitRoot) * min(q, p+n.limitRoot) * angle * angle
}

// mixedCurvature is a bound on twice the mixed derivative by travel and steering angle over a cell; steering changes
// only the coordinates ahead and left.
func (k *pairSearch) mixedCurvature(from, to, low, high int) float64 {
	n := &k.current
	p := &k.assembly.parts[n.a]
	x, y := k.positions(from), k.positions(to)
	way := max(math.Abs(y[p.spots[0]].Ahead-x[p.spots[0]].Ahead), math.Abs(y[p.spots[1]].Ahead-x[p.spots[1]].Ahead))
	return 2 * min(k.assembly.frameParts[n.frame].axisDistance, k.axisDistance()+n.limitRoot) * way * k.angle(low, high)
}

func (k *pairSearch) angle(low, high int) float64 {
	return 2 * k.assembly.lock / steerSteps * float64(high-low)
}

// axisDistance is a bound on the distance of the first part from the steering axis over the travel, in mm.
func (k *pairSearch) axisDistance() float64 {
	p, b := &k.assembly.parts[k.current.a], &k.bounds[k.current.a]
	ahead := math.Abs(b.middle.Ahead) + b.half.Ahead
	if p.wheel {
		return ahead + k.assembly.ring.RadiusMM
	}
	return math.Hypot(ahead, max(math.Abs(p.left()), math.Abs(p.right())))
}

// frameAt is the axis of a part of the frame as seen from what steers, at a steering angle in rad.
func (r *Assembly) frameAt(p *pair, steer float64) solid.Segment[float64] {
	sin, cos := math.Sincos(steer)
	ends := &r.parts[r.frameParts[p.frame].part].ends
	g := solid.Segment[float64]{ends[0].shift, ends[1].shift}
	return g.Turned(cos, -sin)
}

// minimiseSteer moves a contact to the steering angle between low and high at which its gap is smallest: where the
// derivative by the angle vanishes, or at one of them.
func (k *pairSearch) minimiseSteer(c *contact, spots []plane.Vec[float64], low, high float64) {
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
	findZero(low, high, slope, further, func(steer float64) float64 {
		d, slope := at(steer)
		if d.gap <= c.gap {
			*c = d
		}
		return slope
	})
}

// corners holds the squared distances of a pair at the first and last sample of a cell, each at the first and last
// steering step.
type corners [2][2]float64
