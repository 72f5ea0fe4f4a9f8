package clearance

import (
	"math"

	"forkfront/kinematics/plane"
	"forkfront/kinematics/solid"
)

// distance2 is the squared distance of the pair at a sample: in side view only where both parts are flat, since the
// lateral distance is then constant. Above the limit, it may be any value between the limit and the true one.
func (k *pairSearch) distance2(sample int) float64 {
	n, r := &k.current, k.assembly
	spots := k.positions(sample)
	p, q := &r.parts[n.a], &r.parts[n.b]
	switch {
	case n.step >= 0:
		return k.spatialDistance2(spots, &r.frameParts[n.frame].at[n.step])
	case !n.flat:
		b := q.axis(spots)
		return k.spatialDistance2(spots, &b)
	case n.kind == solidPair:
		return solid.PlanarDistanceSquared(spots[p.spots[0]], spots[p.spots[1]], spots[q.spots[0]], spots[q.spots[1]])
	}
	return k.wheelDistance2(spots[p.spots[0]], spots[q.spots[0]], spots[q.spots[1]])
}

// wheelDistance2 is the squared distance from the wheel in side view.
func (k *pairSearch) wheelDistance2(axle, from, to plane.Vec[float64]) float64 {
	n := &k.current
	switch {
	case n.kind == ringPair:
		return k.assembly.ring.PlanarDistanceSquared(axle, from, to)
	case n.kind == discPair || n.lateral > 0:
		return beyondRadius2(solid.PlanarDistanceSquared(axle, axle, from, to), n.wheelRadius)
	}
	return solid.PlanarDistanceSquared(axle, axle, from, to)
}

// beyondRadius2 is the square of the excess of a distance, given by its square, over a radius.
func beyondRadius2(square, radius float64) float64 {
	off := max(0, math.Sqrt(square)-radius)
	return off * off
}

// spatialDistance2 is the squared distance in three dimensions; b is the axis of the second part.
func (k *pairSearch) spatialDistance2(spots []plane.Vec[float64], b *solid.Segment[float64]) float64 {
	n, p := &k.current, &k.assembly.parts[k.current.a]
	if n.kind == solidPair {
		a := p.axis(spots)
		_, _, square := solid.Closest(&a, b)
		return square
	}
	axle := spots[p.spots[0]]
	from, to := plane.Vec[float64]{Along: b[0].Along, Ahead: b[0].Ahead}, plane.Vec[float64]{Along: b[1].Along, Ahead: b[1].Ahead}
	aside := max(0, min(b[0].Left, b[1].Left), -max(b[0].Left, b[1].Left))
	if square := k.wheelDistance2(axle, from, to) + aside*aside; square >= n.limit {
		return square // a lower bound: in side view and laterally
	}
	g := b.FromAxle(axle)
	_, square := k.assembly.closestOnWheel(&g, n.kind == discPair)
	return square
}

// axis is the axis of a part at given positions.
func (p *part) axis(spots []plane.Vec[float64]) solid.Segment[float64] {
	a, b := spots[p.spots[0]], spots[p.spots[1]]
	return solid.Segment[float64]{
		{Along: a.Along, Ahead: a.Ahead, Left: p.ends[0].shift.Left},
		{Along: b.Along, Ahead: b.Ahead, Left: p.ends[1].shift.Left},
	}
}

// gapAt is the gap of the pair at a squared distance.
func (k *pairSearch) gapAt(square float64) float64 {
	n := &k.current
	switch {
	case n.kind == hubPair && n.lateral <= 0:
		if q := math.Sqrt(square); q > n.wheelRadius {
			return q - n.wheelRadius - n.radii
		}
		return n.lateral - n.radii
	case n.flat && n.step < 0:
		square += n.lateral * n.lateral
	}
	return math.Sqrt(square) - n.radii
}

// limit is the squared distance at which the gap of the pair equals the smallest so far.
func (k *pairSearch) limit() float64 {
	n := &k.current
	reach := k.best.gap + n.radii
	switch {
	case n.kind == hubPair && n.lateral <= 0:
		if reach <= n.lateral {
			return 0
		}
		reach = max(0, reach) + n.wheelRadius
		return reach * reach
	case reach <= 0:
		return 0
	case n.flat && n.step < 0:
		return max(0, reach*reach-n.lateral*n.lateral)
	}
	return reach * reach
}
