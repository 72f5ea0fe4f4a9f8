package solid

import (
	"math"

	"forkfront/kinematics/plane"
)

// Ring is a circle in the mid-plane about the axle: the middle of a tyre's tube. The disc within it
// stands for rim and spokes. Segments are given as seen from the axle: see FromAxle.
type Ring struct{ RadiusMM float64 }

// FromAxle is the segment as seen from an axle.
func (g *Segment[T]) FromAxle(axle plane.Vec[T]) Segment[T] {
	return Segment[T]{
		{g[0].Along - axle.Along, g[0].Ahead - axle.Ahead, g[0].Left},
		{g[1].Along - axle.Along, g[1].Ahead - axle.Ahead, g[1].Left},
	}
}

const (
	ringSteps = 40    // of Newton; half a dozen are usual, more where a line grazes
	ringExact = 1e-12 // of a segment's length
)

// across is a segment as a ring sees it: with s the part of the way, the planar distance from the
// axle is q² = square s² + 2 half s + start, the distance from the mid-plane left + rise s, and the
// square of the distance to the ring
//
//	f(s) = (q − R)² + (left + rise s)²,   f'(s)/2 = whole s + lean − R q'(s)
//
// q is convex, so q' rises like a sigmoid about the foot where q is least: beyond the foot f' is
// convex, and before it concave. So f has at most one minimum on either side, and Newton from beyond
// it comes down to it without fail.
type across struct {
	radius              float64
	square, half, start float64
	left, rise          float64
	whole, lean         float64
}

func (r Ring) across(g *Segment[float64]) across {
	x, y, z := g[0].Along, g[0].Ahead, g[0].Left
	dx, dy, dz := g[1].Along-x, g[1].Ahead-y, g[1].Left-z
	c := across{radius: r.RadiusMM, square: dx*dx + dy*dy, half: x*dx + y*dy, start: x*x + y*y, left: z, rise: dz}
	c.whole, c.lean = c.square+dz*dz, c.half+z*dz
	return c
}

// back is the same segment from its other end.
func (c *across) back() across {
	return across{
		radius: c.radius, square: c.square, half: -c.half - c.square, start: c.start + 2*c.half + c.square,
		left: c.left + c.rise, rise: -c.rise, whole: c.whole, lean: -c.lean - c.whole,
	}
}

// planar is the distance from the axle in the mid-plane.
func (c *across) planar(s float64) float64 {
	return math.Sqrt(max(0, (c.square*s+2*c.half)*s+c.start))
}

// over is the square of the distance from the ring.
func (c *across) over(s float64) float64 {
	off, left := c.planar(s)-c.radius, c.left+s*c.rise
	return off*off + left*left
}

// beyond finds the minimum between the foot and the segment's end, if there is one within.
func (c *across) beyond() (float64, bool) {
	foot := -c.half / c.square
	s := min(1, (c.radius*math.Sqrt(c.square)-c.lean)/c.whole) // from there on f rises
	twist := max(0, c.square*c.start-c.half*c.half)
	for range ringSteps {
		q := c.planar(s)
		if s <= foot || s <= 0 || q == 0 {
			return 0, false
		}
		slope := c.whole*s + c.lean - c.radius*(c.square*s+c.half)/q
		if slope <= 0 {
			return s, s < 1
		}
		bend := c.whole - c.radius*twist/(q*q*q)
		if bend <= 0 {
			return 0, false
		}
		s -= slope / bend
		if slope < ringExact*bend {
			break
		}
	}
	return clamp(s), true
}

// Closest finds where a segment comes closest to the ring: the part of the way from its first end,
// and the square of the distance in mm².
func (r Ring) Closest(g *Segment[float64]) (on, square float64) {
	c := r.across(g)
	on, square = 0, c.over(0)
	if d := c.over(1); d < square {
		on, square = 1, d
	}
	if c.whole == 0 {
		return on, square
	}
	inner := [3]float64{-1, -1, -1}
	switch {
	case c.square <= parallel*c.whole: // across the mid-plane
		inner[0] = -c.lean / c.whole
	case c.rise == 0: // beside it: q = R, or the foot
		inner[0] = -c.half / c.square
		if more := c.half*c.half - c.square*(c.start-c.radius*c.radius); more > 0 {
			apart := math.Sqrt(more) / c.square
			inner[1], inner[2] = inner[0]-apart, inner[0]+apart
		}
	default:
		inner[0] = -c.half / c.square
		if s, ok := c.beyond(); ok {
			inner[1] = s
		}
		b := c.back()
		if s, ok := b.beyond(); ok {
			inner[2] = 1 - s
		}
	}
	for _, s := range inner {
		if s > 0 && s < 1 {
			if d := c.over(s); d < square {
				on, square = s, d
			}
		}
	}
	return on, square
}

// RingDistance is the distance in mm of a spot of a segment from the ring, at the part of the way that
// Closest found.
func RingDistance[T plane.Scalar](r Ring, g *Segment[T], on float64) T {
	p := g.At(on)
	off := length(p.Along*p.Along+p.Ahead*p.Ahead) - plane.Lift[T](r.RadiusMM)
	return length(off*off + p.Left*p.Left)
}
