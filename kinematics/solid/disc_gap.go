package solid

import "forkfront/kinematics/plane"

// ClosestOnDisc finds where a segment comes closest to the flat disc within the ring: the part of the way from
// its first end, and the square of the distance in mm². onRing is where it comes closest to the ring.
//
// A disc is convex, so the distance is smallest at an end, where the segment passes through the disc,
// or abreast of the ring: between these it is that of a line over a plane.
func (r Ring) ClosestOnDisc(g *Segment[float64], onRing float64) (on, square float64) {
	c := r.across(g)
	through := onRing
	if c.left*(c.left+c.rise) < 0 {
		through = -c.left / c.rise
	}
	on, square = onRing, c.overWeb(onRing)
	for _, s := range [3]float64{0, 1, through} {
		if d := c.overWeb(s); d < square {
			on, square = s, d
		}
	}
	return on, square
}

// overWeb is the square of the distance from the disc.
func (c *across) overWeb(s float64) float64 {
	off, left := max(0, c.planar(s)-c.radius), c.left+s*c.rise
	return off*off + left*left
}

// DiscDistance is the distance in mm of a spot of a segment from the disc, at the part of the way that
// Web found.
func DiscDistance[T plane.Scalar](r Ring, g *Segment[T], on float64) T {
	p := g.At(on)
	square := p.Left * p.Left
	if planar := p.Along*p.Along + p.Ahead*p.Ahead; plane.Real(planar) > r.RadiusMM*r.RadiusMM {
		off := length(planar) - plane.Lift[T](r.RadiusMM)
		square += off * off
	}
	return length(square)
}
