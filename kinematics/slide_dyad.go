package kinematics

import "math"

// sliderOuter closes a dyad of which one body slides on a known one and the other, pinned to both,
// reaches from a held pivot to a tip on the sliding body. The tip moves along a known line and
// keeps its distance: one root of a quadratic, on the side of top-out.
type sliderOuter[T Scalar] struct {
	pin, slide int    // limbs
	arm        Vec[T] // of the pinned body, from the held pivot to the tip, at top-out
	tip        Vec[T] // from the anchor of the slide's guide to the tip, at top-out
	square     T      // of the arm's length
	side       T
}

func (d *sliderOuter[T]) set(l *linkage[T], g *group, unit []Vec[T]) {
	d.pin, d.slide = 0, 1
	if g.limbs[0].slides() {
		d.pin, d.slide = 1, 0
	}
	tip := l.layout[g.loops[0].point]
	d.arm = tip.minus(l.layout[g.limbs[d.pin].point])
	d.tip = tip.minus(l.pose[g.limbs[d.slide].parent].At)
	d.square = d.arm.dot(d.arm)
	// At top-out the way is 0, so the root is the one that the arm's direction tells.
	d.side = Lift[T](math.Copysign(1, Real(d.arm.dot(unit[d.slide]))))
}

// close places both bodies. It is false where the arm does not reach the line.
func (d *sliderOuter[T]) close(l *linkage[T], g *group, c *cluster[T]) bool {
	pin, slide := &g.limbs[d.pin], &g.limbs[d.slide]
	guide := &l.pose[slide.parent]
	unit := guide.turned(c.unit[d.slide])
	held := l.at(place{pin.parent, pin.point})
	start := guide.At.plus(guide.turned(d.tip)).minus(held)
	along := start.dot(unit)
	square := along*along - start.dot(start) + d.square
	if !(Real(square) > 0) {
		return false
	}
	way := d.side*Sqrt(square) - along
	reach := start.plus(unit.times(way))
	inverse := Inverse(d.square)
	l.pose[pin.body] = Pose[T]{At: held, Cos: d.arm.dot(reach) * inverse, Sin: d.arm.cross(reach) * inverse}
	l.pose[slide.body] = Pose[T]{
		At:  guide.At.plus(guide.turned(c.base[d.slide])).plus(unit.times(way)),
		Cos: guide.Cos, Sin: guide.Sin,
	}
	return true
}

// sliderInner closes a dyad of two bodies that slide on each other, each pinned to a known one.
// The held pivots lie a constant distance apart across the slide; the distance along it follows,
// on the side of top-out.
type sliderInner[T Scalar] struct {
	far    place  // the known pivot that holds the sliding body
	across T      // of the second held pivot from the first, across the slide
	along  T      // the same along the slide at top-out
	first  Vec[T] // direction of the slide at top-out
	side   T
}

func (d *sliderInner[T]) set(l *linkage[T], g *group, unit Vec[T]) {
	lp := &g.loops[0]
	d.far = place{lp.a, lp.point}
	if lp.la >= 0 {
		d.far.body = lp.b
	}
	gap := l.layout[lp.point].minus(l.layout[g.limbs[0].point])
	d.along, d.across, d.first = unit.dot(gap), unit.cross(gap), unit
	d.side = Lift[T](math.Copysign(1, Real(d.along)))
}

// close places both bodies. It is false where the held pivots are nearer to each other than the
// slide allows.
func (d *sliderInner[T]) close(l *linkage[T], g *group, c *cluster[T]) bool {
	pin, slide := &g.limbs[0], &g.limbs[1]
	held := l.at(place{pin.parent, pin.point})
	gap := l.at(d.far).minus(held)
	length := gap.dot(gap)
	square := length - d.across*d.across
	if !(Real(square) > 0) {
		return false
	}
	along := d.side * Sqrt(square)
	inside := d.first.times(along).plus(d.first.quarter().times(d.across))
	inverse := Inverse(length)
	pose := Pose[T]{At: held, Cos: inside.dot(gap) * inverse, Sin: inside.cross(gap) * inverse}
	l.pose[pin.body] = pose
	pose.At = held.plus(pose.turned(c.base[1].plus(d.first.times(along - d.along))))
	l.pose[slide.body] = pose
	return true
}

// room is the part of the arm's squared length that its distance from the line leaves, and the
// derivative per mm of travel.
func (d *sliderOuter[T]) room(l *linkage[T], g *group, c *cluster[T], s *State[T]) (float64, float64) {
	pin, guide := &g.limbs[d.pin], g.limbs[d.slide].parent
	held, velocity := l.seen(s, place{pin.parent, pin.point})
	pose, rate := &s.Pose[guide], &s.Rate[guide]
	turned, unit := pose.turned(d.tip), plain(pose.turned(c.unit[d.slide]))
	start := plain(pose.At.plus(turned)).minus(held)
	moved := plain(rate.At.plus(turned.quarter().times(rate.Turn))).minus(velocity)
	off := unit.cross(start)
	slope := unit.cross(moved) + unit.quarter().cross(start)*Real(rate.Turn)
	square := Real(d.square)
	return 1 - off*off/square, -2 * off * slope / square
}

// plain is a vector without its derivative.
func plain[T Scalar](v Vec[T]) Vec[float64] { return Vec[float64]{Real(v.Along), Real(v.Ahead)} }
