package clearance

import (
	"math"

	"forkfront/kinematics/plane"
	"forkfront/kinematics/solid"
)

// bisect divides a cell of samples and steering steps until nothing in it can be closer than the smallest gap so far.
// The squared distance of two points is no less than the interpolation between its values at the corners, less an
// eighth of its largest second derivative in each direction: with travel, twice the square of their relative
// displacement plus a term for the curvature of their paths; with steering, twice the product of their distances from
// the axis.
func (k *ballSearch) bisect(lo, hi, from, to int, c corners) {
	limit := k.limit()
	if limit <= 0 {
		return
	}
	travel, turn := k.relativeMove(lo, hi), 2*k.assembly.lock/steerSteps*float64(to-from)
	travel *= travel * (2 + 2*math.Sqrt(limit)/pathRadius)
	steer := 2 * turn * turn * max(k.axisProduct(lo), k.axisProduct(hi))
	if c.least(travel, steer) >= limit || k.wheelBound(lo, hi, from, to, travel, turn) >= limit {
		return
	}
	switch {
	case hi-lo <= 1 && to-from <= 1:
	case hi-lo > 1 && (travel > steer || to-from <= 1):
		mid := (lo + hi) / 2
		m := [2]float64{k.evaluate(mid, from), k.evaluate(mid, to)}
		k.bisect(lo, mid, from, to, corners{c[0], m})
		k.bisect(mid, hi, from, to, corners{m, c[1]})
	default:
		mid := (from + to) / 2
		m := [2]float64{k.evaluate(lo, mid), k.evaluate(hi, mid)}
		k.bisect(lo, hi, from, mid, corners{{c[0][0], m[0]}, {c[1][0], m[1]}})
		k.bisect(lo, hi, mid, to, corners{{m[0], c[0][1]}, {m[1], c[1][1]}})
	}
}

// least is a lower bound on the squared distance within a cell: the interpolation lies above the straight line between
// the smaller values of two opposite edges.
func (c *corners) least(travel, turn float64) float64 {
	return max(parabolaMinimum(min(c[0][0], c[0][1]), min(c[1][0], c[1][1]), travel)-turn/8,
		parabolaMinimum(min(c[0][0], c[1][0]), min(c[0][1], c[1][1]), turn)-travel/8)
}

// wheelBound is a lower bound on the squared distance of a pair with the wheel in a cell: the distance from a ball
// around the wheel, which steering hardly moves.
func (k *ballSearch) wheelBound(lo, hi, from, to int, travel, turn float64) float64 {
	p := &k.assembly.balls.pairs[k.current]
	if p.wheelKind == ballSolid {
		return 0
	}
	least, reach := math.Inf(1), 0.0
	for _, sample := range [2]int{lo, hi} {
		positions, axis := k.positions(sample), &k.axes[sample]
		at := positions[k.assembly.parts[0].ends[0].point]
		axle := solid.Spot[float64]{Along: at.Along, Ahead: at.Ahead}
		g := segmentOf(&k.assembly.parts[p.b], positions)
		for _, step := range [2]int{from, to} {
			b := axis.Turned(&g, k.cos[step], -k.sin[step])
			_, _, square := solid.Closest(&b, &solid.Segment[float64]{axle, axle})
			least = min(least, square)
		}
		for _, e := range g {
			off := axis.Offset(e)
			reach = max(reach, math.Abs(axis.Offset(axle))*math.Sqrt(off*off+e.Left*e.Left))
		}
	}
	least -= (travel + 2*turn*turn*reach) / 8
	d := math.Sqrt(max(0, least)) - k.assembly.ring.RadiusMM
	return d * math.Abs(d)
}

// limit is the squared distance at which the gap of the pair equals the smallest so far.
func (k *ballSearch) limit() float64 {
	if math.IsInf(k.best.gap, 1) {
		return k.best.gap
	}
	d := k.best.gap + k.radii(k.current)
	return d * math.Abs(d)
}

// radii is the sum of the radii of both parts of a pair, in mm.
func (k *ballSearch) radii(i int) float64 {
	p := &k.assembly.balls.pairs[i]
	return radiusOf(&k.assembly.parts[p.a], k.members) + radiusOf(&k.assembly.parts[p.b], k.members) + k.assembly.sectionRadius(p.wheelKind)
}

// relativeMove is an upper bound on the relative displacement, in mm, of two points of the pair between two samples at
// any steering angle: the sum of the displacements of both parts and of that of the axis about which the second is
// turned. An axis that shifts by d and tilts by δ moves what is turned by θ about it by 2 d sin θ/2, and by
// 4 sin δ/2 sin θ/2 times its distance from the ball joint.
func (k *ballSearch) relativeMove(from, to int) float64 {
	p := &k.assembly.balls.pairs[k.current]
	x, y := k.positions(from), k.positions(to)
	one, two := &k.axes[from], &k.axes[to]
	tilt := math.Sqrt(distance2(one.Ahead, two.Ahead)) // 2 sin δ/2
	g := segmentOf(&k.assembly.parts[p.b], x)
	far := 0.0
	for _, e := range g {
		along, ahead := e.Along-one.At.Along, e.Ahead-one.At.Ahead
		far = max(far, along*along+ahead*ahead+e.Left*e.Left)
	}
	axis := 2 * k.sinHalfLock * (math.Sqrt(distance2(one.At, two.At)) + tilt*math.Sqrt(far))
	return largestMove(&k.assembly.parts[p.a], x, y) + largestMove(&k.assembly.parts[p.b], x, y) + axis
}

// axisProduct is the product of the largest distances of both parts of the pair from the steering axis at a sample.
func (k *ballSearch) axisProduct(sample int) float64 {
	p := &k.assembly.balls.pairs[k.current]
	return k.axisDistance(p.a, sample) * k.axisDistance(p.b, sample)
}

// axisDistance is the largest distance of a part from the steering axis at a sample, in mm.
func (k *ballSearch) axisDistance(i, sample int) float64 {
	known := &k.axisDistances[i*(k.last+1)+sample]
	if *known >= 0 {
		return *known
	}
	p, axis := &k.assembly.parts[i], &k.axes[sample]
	far := 0.0
	for _, e := range segmentOf(p, k.positions(sample)) {
		off := axis.Offset(e)
		far = max(far, off*off+e.Left*e.Left)
	}
	*known = math.Sqrt(far)
	if p.wheel {
		*known += k.assembly.ring.RadiusMM
	}
	return *known
}

// largestMove is the larger displacement of the ends of a part between two samples, in mm.
func largestMove(p *part, x, y []plane.Vec[float64]) float64 {
	most := 0.0
	for i := range p.ends {
		if point := p.ends[i].point; point >= 0 {
			most = max(most, distance2(x[point], y[point]))
		}
	}
	return math.Sqrt(most)
}

// pathRadius is the smallest radius of curvature, in mm, that a point's path is assumed to have.
const pathRadius = 100
