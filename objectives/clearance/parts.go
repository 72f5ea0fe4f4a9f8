package clearance

import (
	"math"
	"slices"

	"forkfront/kinematics"
	"forkfront/kinematics/mechanism"
	"forkfront/kinematics/scheme"
	"forkfront/kinematics/solid"
	"forkfront/objectives/fork"
)

// part is a capsule of a fork, or its wheel. Its ends move with points of the mechanism or are fixed.
type part struct {
	name   string
	ends   [2]end
	spots  [2]int // indices of its ends among the positions of a sample
	flat   bool   // parallel or perpendicular to the mid-plane
	radius float64
	member int   // index of the member whose radius it has; −1: its own
	bodies []int // bodies to which it is fixed; onCrown for parts bolted to the crown
	guides []int // bodies with whose parts it is not compared: of an outer tube that whose inner tube runs in it
	points []int // points at which it ends
	fixed  bool
	paired bool // there is a mirror image on the other side
	mirror bool // it is that image
	shaft  bool
	wheel  bool
	joined bool
	varies bool // it is of a tree that depends on the layout
}

// onCrown stands for the body of parts that are bolted to the crown.
const onCrown = -1

// end is one end of a part: a point of the mechanism, if any, plus an offset in mm.
type end struct {
	point int // −1: none
	shift solid.Spot[float64]
}

// segmentOf is the axis of a part at given positions of the points of the mechanism.
func segmentOf[T kinematics.Scalar](p *part, positions []kinematics.Vec[T]) solid.Segment[T] {
	var g solid.Segment[T]
	for i := range p.ends {
		e := &p.ends[i]
		g[i] = solid.Spot[T]{Along: kinematics.Lift[T](e.shift.Along), Ahead: kinematics.Lift[T](e.shift.Ahead), Left: kinematics.Lift[T](e.shift.Left)}
		if e.point >= 0 {
			g[i].Along += positions[e.point].Along
			g[i].Ahead += positions[e.point].Ahead
		}
	}
	return g
}

// mirrored is the mirror image of the part on the other side of the mid-plane.
func (p *part) mirrored() part {
	other := *p
	other.name += " (right)"
	other.mirror = true
	for i := range other.ends {
		other.ends[i].shift.Left *= -1
	}
	return other
}

// central reports whether a part is its own mirror image.
func (p *part) central() bool {
	return p.inMidPlane() || p.spansMidPlane()
}

// spansMidPlane reports whether a part is perpendicular to the mid-plane and extends equally to both sides.
func (p *part) spansMidPlane() bool {
	a, b := &p.ends[0], &p.ends[1]
	return a.shift.Left == -b.shift.Left && a.point == b.point && a.shift.Along == b.shift.Along && a.shift.Ahead == b.shift.Ahead
}

// pin tells whether a part is a point in the side view.
func (p *part) pin() bool { return p.spots[0] == p.spots[1] }

// inMidPlane reports whether the axis of a part lies in the mid-plane.
func (p *part) inMidPlane() bool { return p.ends[0].shift.Left == 0 && p.ends[1].shift.Left == 0 }

// behind reports whether a part of the frame lies behind the steering axis.
func (p *part) behind() bool { return p.ends[0].shift.Ahead <= 0 && p.ends[1].shift.Ahead <= 0 }

// onAxis reports whether a part lies on the steering axis, where steering changes nothing.
func onAxis(p *part) bool {
	for i := range p.ends {
		if e := &p.ends[i]; e.point >= 0 || e.shift.Ahead != 0 || e.shift.Left != 0 {
			return false
		}
	}
	return true
}

// right and left are the lateral extent of the axis of a part, in mm, positive to the left.
func (p *part) right() float64 { return min(p.ends[0].shift.Left, p.ends[1].shift.Left) }
func (p *part) left() float64  { return max(p.ends[0].shift.Left, p.ends[1].shift.Left) }

// parts lists all parts of a fork: the wheel first; of parts on both sides, the left one.
func parts(p *fork.Package, m *mechanism.Mechanism, x *fork.Across, shock *fork.Shock) []part {
	wheel := part{name: "tyre", member: -1, wheel: true, points: []int{-1}}
	wheel.ends[0].point, wheel.ends[1].point = m.Point(scheme.PointAxle), m.Point(scheme.PointAxle)
	all := []part{wheel}
	for i, mb := range m.Tubes() {
		half := x.HalfWidthMM[mb.Body]
		q := part{
			name: m.Bodies[mb.Body] + " " + m.PointName(mb.From) + "–" + m.PointName(mb.To), member: i,
			bodies: []int{mb.Body}, points: []int{mb.From, mb.To}, fixed: mb.Body == m.Ground(), paired: !x.OneSide[mb.Body] && half > 0,
			varies: m.Varies(mb.Body),
		}
		for k, point := range q.points {
			q.ends[k] = end{point, solid.Spot[float64]{Left: half}}
		}
		for _, s := range m.Slides() {
			if mb.To == s.Foot || mb.From == s.Foot {
				q.guides = append(q.guides, s.Guide)
			}
			if mb.Body == s.Guide && slices.Contains(s.Through[:], mb.From) && slices.Contains(s.Through[:], mb.To) {
				q.points = append(q.points, s.Start) // down to which it runs in the outer tube
			}
		}
		all = append(all, q)
	}
	all = append(all, shafts(p, m, x, shock)...)
	if m.HasShock() && !inLegs(m, x, shock) {
		all = append(all, shockBody(p, m, x, shock))
	}
	return append(all, fixed(p, m)...)
}

// inLegs tells whether the springs are within the legs of a slide: on both of its bodies, and beside the wheel where its tubes
// are.
func inLegs(m *mechanism.Mechanism, x *fork.Across, shock *fork.Shock) bool {
	upper, _ := m.ShockEnd(0)
	lower, _ := m.ShockEnd(1)
	return slices.ContainsFunc(m.Slides(), func(s mechanism.Slide) bool {
		return min(upper, lower) == min(s.Guide, s.Slider) && max(upper, lower) == max(s.Guide, s.Slider) && x.ShockHalf(shock) == x.HalfWidthMM[s.Guide]
	})
}

func shockBody(p *fork.Package, m *mechanism.Mechanism, x *fork.Across, shock *fork.Shock) part {
	q := part{name: "shock", radius: p.ShockRadiusMM, member: -1, paired: shock.Count > 1}
	q.points = []int{m.Point(scheme.PointShockUpper), m.Point(scheme.PointShockLower)}
	for k, point := range q.points {
		q.ends[k] = end{point, solid.Spot[float64]{Left: x.ShockHalf(shock)}}
	}
	return q
}

// shafts lists the pins at the pivots of the mechanism and at the eyes of the shock. A through shaft spans the widest
// body on it; a stub extends from the innermost to the outermost body, on each side that has them.
func shafts(p *fork.Package, m *mechanism.Mechanism, x *fork.Across, shock *fork.Shock) []part {
	var all []part
	within := m.HasShock() && inLegs(m, x, shock)
	for point, radius := range p.Shafts {
		name := m.Points[point]
		eye := name == scheme.PointShockUpper || name == scheme.PointShockLower
		if radius == 0 || name == scheme.PointAxle || name == scheme.PointRoot || eye && within || alongSlide(m, point) {
			continue
		}
		q := part{name: "shaft " + name, radius: radius, member: -1, points: []int{point}, shaft: true}
		oneSide := false
		for _, name := range m.PointBodies(point) {
			b := slices.Index(m.Bodies, name)
			q.bodies = append(q.bodies, b)
			q.fixed = q.fixed || b == m.Ground()
			oneSide = oneSide || x.OneSide[b]
		}
		inner, outer := extent(m, x, shock, point, q.bodies)
		q.paired = inner >= 0 && outer > 0 && !oneSide
		q.ends = [2]end{{point, solid.Spot[float64]{Left: inner}}, {point, solid.Spot[float64]{Left: outer}}}
		all = append(all, q)
	}
	return all
}

// extent is where a shaft with some bodies on it begins and ends, in mm to the left of the mid-plane.
func extent(m *mechanism.Mechanism, x *fork.Across, shock *fork.Shock, point int, bodies []int) (inner, outer float64) {
	inner = math.Inf(1)
	oneSide := false
	for _, b := range bodies {
		inner, outer = min(inner, x.HalfWidthMM[b]), max(outer, x.HalfWidthMM[b])
		oneSide = oneSide || x.OneSide[b]
	}
	if name := m.Points[point]; name == scheme.PointShockUpper || name == scheme.PointShockLower {
		half := x.ShockHalf(shock)
		inner, outer = min(inner, half), max(outer, half)
	}
	if x.Shafts[point] != fork.ShaftStub && !oneSide {
		inner = -outer
	}
	return inner, outer
}

// alongSlide tells whether a point only marks the line of a slide.
func alongSlide(m *mechanism.Mechanism, point int) bool {
	return len(m.Pinned(point)) == 0 && slices.ContainsFunc(m.Slides(), func(s mechanism.Slide) bool { return slices.Contains(s.Through[:], point) })
}

// fixed lists the crown and the parts bolted to it.
func fixed(p *fork.Package, m *mechanism.Mechanism) []part {
	crown := part{
		name: "crown", radius: p.CrownRadiusMM, member: -1, fixed: true, joined: true,
		bodies: []int{m.Ground(), onCrown}, points: []int{m.Point(scheme.PointRoot)},
	}
	crown.ends = [2]end{{point: -1}, {m.Point(scheme.PointRoot), solid.Spot[float64]{Along: -p.CrownRadiusMM}}}
	all := []part{crown}
	for _, c := range p.Steered {
		all = append(all, fixture(&c))
		all[len(all)-1].bodies = []int{onCrown}
	}
	return all
}

// fixture is the part of a capsule that does not move with the travel.
func fixture(c *fork.Capsule) part {
	q := part{name: c.Name, radius: c.RadiusMM, member: -1, fixed: true, joined: c.Joined}
	for k, at := range c.Ends {
		q.ends[k] = end{-1, at}
	}
	return q
}

// radiusOf is the radius of a part: its own, or that of its member.
func radiusOf[T kinematics.Scalar](p *part, members []T) T {
	if p.member < 0 {
		return kinematics.Lift[T](p.radius)
	}
	return members[p.member]
}
