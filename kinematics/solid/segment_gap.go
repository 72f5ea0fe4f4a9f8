package solid

import "forkfront/kinematics/plane"

// parallel is the square of the sine of the angle between two segments below which they count as
// parallel: then a closest pair of spots lies at an end of one of them, within rounding.
const parallel = 1e-12

// Closest finds where two segments come closest: the parts of the way along each from its first
// end, and the square of the distance in mm². Segments without length are spots. Of parallel ones,
// which are equally close all along, an end is taken.
//
// The spots are those of the two lines, then brought back into the segments one after the other
// (Ericson, Real-Time Collision Detection, 5.1.9; recalled).
func Closest(a, b *Segment[float64]) (onA, onB, square float64) {
	da, db, r := a[1].minus(a[0]), b[1].minus(b[0]), a[0].minus(b[0])
	aa, bb, ab := da.dot(da), db.dot(db), da.dot(db)
	ar, br := da.dot(r), db.dot(r)
	cross := aa*bb - ab*ab
	if cross <= parallel*aa*bb {
		return closestEnds(a, b)
	}
	onA = clamp((ab*br - ar*bb) / cross)
	onB = (ab*onA + br) / bb
	if onB < 0 || onB > 1 {
		onB = clamp(onB)
		onA = clamp((ab*onB - ar) / aa)
	}
	x := r.Along + onA*da.Along - onB*db.Along
	y := r.Ahead + onA*da.Ahead - onB*db.Ahead
	z := r.Left + onA*da.Left - onB*db.Left
	return onA, onB, x*x + y*y + z*z
}

// closestEnds tries every end against the other segment.
func closestEnds(a, b *Segment[float64]) (onA, onB, square float64) {
	square = -1
	keep := func(s, t float64) {
		if d := squareApart(a, b, s, t); square < 0 || d < square {
			onA, onB, square = s, t, d
		}
	}
	for i := range a {
		keep(float64(i), nearest(b, a[i]))
	}
	for i := range b {
		keep(nearest(a, b[i]), float64(i))
	}
	return onA, onB, square
}

// nearest is where a segment comes closest to a spot, as a part of its way.
func nearest(g *Segment[float64], to Spot[float64]) float64 {
	d := g[1].minus(g[0])
	if square := d.dot(d); square > 0 {
		return clamp(to.minus(g[0]).dot(d) / square)
	}
	return 0
}

// SquareFrom is the square of the distance in mm² of a segment from a spot.
func SquareFrom(g *Segment[float64], to Spot[float64]) float64 {
	d := g.At(nearest(g, to)).minus(to)
	return d.dot(d)
}

// squareApart is the square of the distance of two spots on segments.
func squareApart[T plane.Scalar](a, b *Segment[T], onA, onB float64) T {
	d := a.At(onA).minus(b.At(onB))
	return d.dot(d)
}

// SegmentDistance is the distance in mm of two spots on segments, the parts of the way that Closest found. At
// a smallest distance the parts need no derivative (envelope theorem).
func SegmentDistance[T plane.Scalar](a, b *Segment[T], onA, onB float64) T {
	return length(squareApart(a, b, onA, onB))
}
