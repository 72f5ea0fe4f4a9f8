package solid

import (
	"math"

	"forkfront/kinematics/plane"
)

// PlanarDistanceSquared is the square of the distance in mm² between two segments in the plane, from a0 to a1
// and from b0 to b1. Where they cross it is 0; elsewhere an end of one of them is closest. Segments
// without length are spots.
func PlanarDistanceSquared(a0, a1, b0, b1 plane.Vec[float64]) float64 {
	ax, ay := a1.Along-a0.Along, a1.Ahead-a0.Ahead
	bx, by := b1.Along-b0.Along, b1.Ahead-b0.Ahead
	x, y := b0.Along-a0.Along, b0.Ahead-a0.Ahead
	twist := ax*by - ay*bx
	fromA, fromB := ax*y-ay*x, bx*y-by*x // on which side of a lies b0, and of b a0 with its sign turned
	if fromA*(fromA+twist) < 0 && fromB*(fromB+twist) < 0 {
		return 0
	}
	overA, overB := perLength(ax, ay), perLength(bx, by)
	return min(
		squareBeside(x, y, ax, ay, overA), squareBeside(x+bx, y+by, ax, ay, overA),
		squareBeside(-x, -y, bx, by, overB), squareBeside(ax-x, ay-y, bx, by, overB),
	)
}

// perLength is one over the square of a length, and 0 for none.
func perLength(x, y float64) float64 {
	if square := x*x + y*y; square > 0 {
		return 1 / square
	}
	return 0
}

// squareBeside is the square of the distance of a spot (x, y) from the segment from the origin to
// (alongX, alongY), whose length squared over 1 is over.
func squareBeside(x, y, alongX, alongY, over float64) float64 {
	at := max(0, min(1, (x*alongX+y*alongY)*over))
	x, y = x-at*alongX, y-at*alongY
	return x*x + y*y
}

// CrossingDepth is the length in mm of the shortest translation that takes apart two segments in the plane that cross, from
// a0 to a1 and from b0 to b1; it leaves an end of one of them on the other: ends 0 and 1 are those of the first segment, 2 and 3
// those of the second. It is 0 where they do not cross.
//
// The translations with which the segments still meet make up a parallelogram, whose sides are the segments, around no
// translation: the nearest of its sides is as far away as the nearest end of either segment is from the other one's line.
func CrossingDepth(a0, a1, b0, b1 plane.Vec[float64]) (depth float64, end int) {
	ax, ay := a1.Along-a0.Along, a1.Ahead-a0.Ahead
	bx, by := b1.Along-b0.Along, b1.Ahead-b0.Ahead
	x, y := b0.Along-a0.Along, b0.Ahead-a0.Ahead
	twist := ax*by - ay*bx
	fromA, fromB := ax*y-ay*x, bx*y-by*x
	if !(fromA*(fromA+twist) < 0 && fromB*(fromB+twist) < 0) {
		return 0, 0
	}
	overA, overB := math.Sqrt(perLength(ax, ay)), math.Sqrt(perLength(bx, by))
	depth = math.Abs(fromB) * overB
	for k, d := range [3]float64{math.Abs(fromB+twist) * overB, math.Abs(fromA) * overA, math.Abs(fromA+twist) * overA} {
		if d < depth {
			depth, end = d, k+1
		}
	}
	return depth, end
}

// DepthOfEnd is the distance in mm of an end of two segments that cross, numbered as by CrossingDepth, from the line of the
// other segment, which must have a length.
func DepthOfEnd[T plane.Scalar](a0, a1, b0, b1 plane.Vec[T], end int) T {
	at, from, way := [4]plane.Vec[T]{a0, a1, b0, b1}[end], b0, b1.Minus(b0)
	if end > 1 {
		from, way = a0, a1.Minus(a0)
	}
	return plane.Abs(way.Cross(at.Minus(from))) * plane.Inverse(plane.Sqrt(way.Dot(way)))
}

// DepthInDisc is how deep in mm a segment reaches into the disc within the ring about an axle, and at which part of its
// way from the first end; 0 where it stays outside.
func (r Ring) DepthInDisc(axle, from, to plane.Vec[float64]) (depth, on float64) {
	x, y := axle.Along-from.Along, axle.Ahead-from.Ahead
	dx, dy := to.Along-from.Along, to.Ahead-from.Ahead
	on = clamp((x*dx + y*dy) * perLength(dx, dy))
	return max(0, r.RadiusMM-math.Hypot(x-on*dx, y-on*dy)), on
}

// PlanarDistanceSquared is the square of the distance in mm² between the ring about an axle and a segment in its
// plane.
func (r Ring) PlanarDistanceSquared(axle, from, to plane.Vec[float64]) float64 {
	x, y := axle.Along-from.Along, axle.Ahead-from.Ahead
	dx, dy := to.Along-from.Along, to.Ahead-from.Ahead
	if near := squareBeside(x, y, dx, dy, perLength(dx, dy)); near >= r.RadiusMM*r.RadiusMM {
		off := math.Sqrt(near) - r.RadiusMM
		return off * off
	}
	far := max(x*x+y*y, (x-dx)*(x-dx)+(y-dy)*(y-dy))
	off := max(0, r.RadiusMM-math.Sqrt(far))
	return off * off
}
