package kinematics

import (
	"math"

	"forkfront/kinematics/mechanism"
	"forkfront/kinematics/plane"
)

// sliderOuter closes a dyad of which one body slides on a known one and the other, pinned to both,
// reaches from a held pivot to a tip on the sliding body. The tip moves along a known line and
// keeps its distance: one root of a quadratic, on the side of top-out.
type sliderOuter[T plane.Scalar] struct {
	pin, slide int          // tree links
	arm        plane.Vec[T] // of the pinned body, from the held pivot to the tip, at top-out
	tip        plane.Vec[T] // from the anchor of the slide's guide to the tip, at top-out
	square     T            // of the arm's length
	side       T
}

func (d *sliderOuter[T]) set(l *linkage[T], g *mechanism.Group, unit []plane.Vec[T]) {
	d.pin, d.slide = 0, 1
	if g.Links[0].Slides() {
		d.pin, d.slide = 1, 0
	}
	tip := l.layout[g.Loops[0].Point]
	d.arm = tip.Minus(l.layout[g.Links[d.pin].Point])
	d.tip = tip.Minus(l.pose[g.Links[d.slide].Parent].At)
	d.square = d.arm.Dot(d.arm)
	// At top-out the way is 0, so the root is the one that the arm's direction tells.
	d.side = plane.Lift[T](math.Copysign(1, plane.Real(d.arm.Dot(unit[d.slide]))))
}

// close places both bodies. It is false where the arm does not reach the line.
func (d *sliderOuter[T]) close(l *linkage[T], g *mechanism.Group, c *groupState[T]) bool {
	pin, slide := &g.Links[d.pin], &g.Links[d.slide]
	guide := &l.pose[slide.Parent]
	unit := guide.Turned(c.unit[d.slide])
	held := l.at(mechanism.BodyPoint{Body: pin.Parent, Point: pin.Point})
	start := guide.At.Plus(guide.Turned(d.tip)).Minus(held)
	along := start.Dot(unit)
	square := along*along - start.Dot(start) + d.square
	if !(plane.Real(square) > 0) {
		return false
	}
	way := d.side*plane.Sqrt(square) - along
	reach := start.Plus(unit.Times(way))
	inverse := plane.Inverse(d.square)
	l.pose[pin.Body] = plane.Pose[T]{At: held, Cos: d.arm.Dot(reach) * inverse, Sin: d.arm.Cross(reach) * inverse}
	l.pose[slide.Body] = plane.Pose[T]{At: guide.At.Plus(guide.Turned(c.base[d.slide])).Plus(unit.Times(way)), Cos: guide.Cos, Sin: guide.Sin}

	return true
}

// sliderInner closes a dyad of two bodies that slide on each other, each pinned to a known one.
// The held pivots lie a constant distance apart across the slide; the distance along it follows,
// on the side of top-out.
type sliderInner[T plane.Scalar] struct {
	far    mechanism.BodyPoint // the known pivot that holds the sliding body
	across T                   // of the second held pivot from the first, across the slide
	along  T                   // the same along the slide at top-out
	first  plane.Vec[T]        // direction of the slide at top-out
	side   T
}

func (d *sliderInner[T]) set(l *linkage[T], g *mechanism.Group, unit plane.Vec[T]) {
	lp := &g.Loops[0]
	d.far = mechanism.BodyPoint{Body: lp.A, Point: lp.Point}
	if lp.LinkA >= 0 {
		d.far.Body = lp.B
	}
	gap := l.layout[lp.Point].Minus(l.layout[g.Links[0].Point])
	d.along, d.across, d.first = unit.Dot(gap), unit.Cross(gap), unit
	d.side = plane.Lift[T](math.Copysign(1, plane.Real(d.along)))
}

// close places both bodies. It is false where the held pivots are nearer to each other than the
// slide allows.
func (d *sliderInner[T]) close(l *linkage[T], g *mechanism.Group, c *groupState[T]) bool {
	pin, slide := &g.Links[0], &g.Links[1]
	held := l.at(mechanism.BodyPoint{Body: pin.Parent, Point: pin.Point})
	gap := l.at(d.far).Minus(held)
	length := gap.Dot(gap)
	square := length - d.across*d.across
	if !(plane.Real(square) > 0) {
		return false
	}
	along := d.side * plane.Sqrt(square)
	inside := d.first.Times(along).Plus(d.first.Quarter().Times(d.across))
	inverse := plane.Inverse(length)
	pose := plane.Pose[T]{At: held, Cos: inside.Dot(gap) * inverse, Sin: inside.Cross(gap) * inverse}
	l.pose[pin.Body] = pose
	pose.At = held.Plus(pose.Turned(c.base[1].Plus(d.first.Times(along - d.along))))
	l.pose[slide.Body] = pose
	return true
}
