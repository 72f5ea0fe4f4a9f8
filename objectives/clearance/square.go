package clearance

import (
	"math"

	"forkfront/kinematics/plane"
	"forkfront/kinematics/solid"
)

// square is the square of the distance of the pair at a sample: in the plane alone where both parts are
// flat, for then the rest never changes. Where it is above the limit it may be anything above that and
// below the true one.
func (k *clearing) square(sample int) float64 {
	n, r := &k.now, k.room
	spots := k.at(sample)
	p, q := &r.parts[n.a], &r.parts[n.b]
	switch {
	case n.step >= 0:
		return k.solid(spots, &r.turned[n.frame].at[n.step])
	case !n.flat:
		b := q.axis(spots)
		return k.solid(spots, &b)
	case n.kind == solidPair:
		return solid.PlanarDistanceSquared(spots[p.spots[0]], spots[p.spots[1]], spots[q.spots[0]], spots[q.spots[1]])
	}
	return k.aroundAxle(spots[p.spots[0]], spots[q.spots[0]], spots[q.spots[1]])
}

// aroundAxle is the square of the distance of a wheel in the plane.
func (k *clearing) aroundAxle(axle, from, to plane.Vec[float64]) float64 {
	n := &k.now
	switch {
	case n.kind == ringPair:
		return k.room.ring.PlanarDistanceSquared(axle, from, to)
	case n.kind == webPair || n.aside > 0:
		return pastRadius(solid.PlanarDistanceSquared(axle, axle, from, to), n.around)
	}
	return solid.PlanarDistanceSquared(axle, axle, from, to)
}

// pastRadius is the square of what a distance, whose square is given, is more than a radius.
func pastRadius(square, radius float64) float64 {
	off := max(0, math.Sqrt(square)-radius)
	return off * off
}

// solid is the square of the distance in three dimensions, the axis of the second part given.
func (k *clearing) solid(spots []plane.Vec[float64], b *solid.Segment[float64]) float64 {
	n, p := &k.now, &k.room.parts[k.now.a]
	if n.kind == solidPair {
		a := p.axis(spots)
		_, _, square := solid.Closest(&a, b)
		return square
	}
	axle := spots[p.spots[0]]
	from, to := plane.Vec[float64]{Along: b[0].Along, Ahead: b[0].Ahead}, plane.Vec[float64]{Along: b[1].Along, Ahead: b[1].Ahead}
	aside := max(0, min(b[0].Left, b[1].Left), -max(b[0].Left, b[1].Left))
	if square := k.aroundAxle(axle, from, to) + aside*aside; square >= n.limit {
		return square // of its shadow in the mid-plane, and aside
	}
	g := b.FromAxle(axle)
	on, square := k.room.ring.Closest(&g)
	if n.kind == webPair {
		_, square = k.room.ring.ClosestOnDisc(&g, on)
	}
	return square
}

// axis is that of a part where the spots are.
func (p *part) axis(spots []plane.Vec[float64]) solid.Segment[float64] {
	a, b := spots[p.spots[0]], spots[p.spots[1]]
	return solid.Segment[float64]{
		{Along: a.Along, Ahead: a.Ahead, Left: p.ends[0].shift.Left},
		{Along: b.Along, Ahead: b.Ahead, Left: p.ends[1].shift.Left},
	}
}

// gapAt is the gap of the pair at a square of its distance.
func (k *clearing) gapAt(square float64) float64 {
	n := &k.now
	switch {
	case n.kind == hubPair && n.aside <= 0:
		if q := math.Sqrt(square); q > n.around {
			return q - n.around - n.radii
		}
		return n.aside - n.radii
	case n.flat && n.step < 0:
		square += n.aside * n.aside
	}
	return math.Sqrt(square) - n.radii
}

// limit is the square of the distance at which the gap of the pair would be the smallest so far.
func (k *clearing) limit() float64 {
	n := &k.now
	reach := k.best.gap + n.radii
	switch {
	case n.kind == hubPair && n.aside <= 0:
		if reach <= n.aside {
			return 0
		}
		reach = max(0, reach) + n.around
		return reach * reach
	case reach <= 0:
		return 0
	case n.flat && n.step < 0:
		return max(0, reach*reach-n.aside*n.aside)
	}
	return reach * reach
}
