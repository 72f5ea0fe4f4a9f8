package clearance

import (
	"math"
	"slices"

	"forkfront/kinematics"
	"forkfront/kinematics/solid"
	"forkfront/objectives/fork"
)

// part is one capsule of a fork, or its wheel. Its ends ride on points of the mechanism or stay where
// they are.
type part struct {
	name   string
	ends   [2]end
	spots  [2]int // where its ends are in the plane, among the spots of a sample
	flat   bool   // it lies in a plane beside the mid-plane, or square to it
	radius float64
	member int   // of the mechanism, whose radius it has; −1: its own
	bodies []int // that it is rigid with; onCrown for what is bolted to the crown
	points []int // that it ends at
	still  bool
	twin   bool // has another one on the other side
	wheel  bool
	joined bool
}

// onCrown stands for the body of parts that are bolted to the crown.
const onCrown = -1

// end is one end of a part: at a point of the mechanism, if any, plus a shift.
type end struct {
	point int // −1: none
	shift solid.Spot[float64]
}

// segmentOf is the axis of a part where the points of the mechanism are.
func segmentOf[T kinematics.Scalar](p *part, places []kinematics.Vec[T]) solid.Segment[T] {
	var g solid.Segment[T]
	for i := range p.ends {
		e := &p.ends[i]
		g[i] = solid.Spot[T]{Along: kinematics.Lift[T](e.shift.Along), Ahead: kinematics.Lift[T](e.shift.Ahead), Left: kinematics.Lift[T](e.shift.Left)}
		if e.point >= 0 {
			g[i].Along += places[e.point].Along
			g[i].Ahead += places[e.point].Ahead
		}
	}
	return g
}

// mirrored is the part on the other side of the mid-plane.
func (p *part) mirrored() part {
	other := *p
	other.name += " (right)"
	for i := range other.ends {
		other.ends[i].shift.Left *= -1
	}
	return other
}

// central tells whether a part is its own mirror image.
func (p *part) central() bool {
	return p.inMiddle() || p.across()
}

// across tells whether a part lies square to the mid-plane and reaches as far to both sides.
func (p *part) across() bool {
	a, b := &p.ends[0], &p.ends[1]
	return a.shift.Left == -b.shift.Left && a.point == b.point && a.shift.Along == b.shift.Along && a.shift.Ahead == b.shift.Ahead
}

// inMiddle tells whether the axis of a part lies in the mid-plane.
func (p *part) inMiddle() bool { return p.ends[0].shift.Left == 0 && p.ends[1].shift.Left == 0 }

// behind tells whether a part of the frame lies behind the steering axis.
func (p *part) behind() bool { return p.ends[0].shift.Ahead <= 0 && p.ends[1].shift.Ahead <= 0 }

// onAxis tells whether a part lies on the steering axis, where turning it changes nothing.
func onAxis(p *part) bool {
	for i := range p.ends {
		if e := &p.ends[i]; e.point >= 0 || e.shift.Ahead != 0 || e.shift.Left != 0 {
			return false
		}
	}
	return true
}

// right and left are how far a part reaches across the plane, its radius left out.
func (p *part) right() float64 { return min(p.ends[0].shift.Left, p.ends[1].shift.Left) }
func (p *part) left() float64  { return max(p.ends[0].shift.Left, p.ends[1].shift.Left) }

// parts lists all parts of a mechanism: the wheel first, of members on both sides the left one.
func parts(p *fork.Package, m *kinematics.Mechanism, x *fork.Across, shock *fork.Shock) []part {
	wheel := part{name: "tyre", member: -1, wheel: true, points: []int{-1}}
	wheel.ends[0].point, wheel.ends[1].point = m.Point(kinematics.PointAxle), m.Point(kinematics.PointAxle)
	all := []part{wheel}
	for i, mb := range m.Members() {
		half := x.HalfWidthMM[mb.Body]
		q := part{
			name: m.Bodies[mb.Body] + " " + m.Points[mb.From] + "–" + m.Points[mb.To], member: i,
			bodies: []int{mb.Body}, points: []int{mb.From, mb.To}, still: mb.Body == m.Ground(), twin: !x.OneSide[mb.Body] && half > 0,
		}
		for k, point := range q.points {
			q.ends[k] = end{point, solid.Spot[float64]{Left: half}}
		}
		all = append(all, q)
	}
	all = append(all, shafts(p, m, x, shock)...)
	if m.HasShock() {
		all = append(all, shockBody(p, m, x, shock))
	}
	return append(all, fixed(p, m)...)
}

func shockBody(p *fork.Package, m *kinematics.Mechanism, x *fork.Across, shock *fork.Shock) part {
	q := part{name: "shock", radius: p.ShockRadiusMM, member: -1, twin: shock.Count > 1}
	q.points = []int{m.Point(kinematics.PointShockUpper), m.Point(kinematics.PointShockLower)}
	for k, point := range q.points {
		q.ends[k] = end{point, solid.Spot[float64]{Left: x.ShockHalf(shock)}}
	}
	return q
}

// shafts are the pins at the mechanism's pivots and at the shock's eyes. A through shaft reaches over
// the widest body on it; a stub from the innermost to the outermost, on each side that has them.
func shafts(p *fork.Package, m *kinematics.Mechanism, x *fork.Across, shock *fork.Shock) []part {
	var all []part
	for point, radius := range p.Shafts {
		if name := m.Points[point]; radius == 0 || name == kinematics.PointAxle || name == kinematics.PointRoot {
			continue
		}
		q := part{name: "shaft " + m.Points[point], radius: radius, member: -1, points: []int{point}}
		inner, outer, oneSide := math.Inf(1), 0.0, false
		span := func(half float64) { inner, outer = min(inner, half), max(outer, half) }
		for _, name := range m.PointBodies(point) {
			b := slices.Index(m.Bodies, name)
			q.bodies = append(q.bodies, b)
			q.still = q.still || b == m.Ground()
			oneSide = oneSide || x.OneSide[b]
			span(x.HalfWidthMM[b])
		}
		if name := m.Points[point]; name == kinematics.PointShockUpper || name == kinematics.PointShockLower {
			span(x.ShockHalf(shock))
		}
		if x.Shafts[point] != fork.ShaftStub && !oneSide {
			inner = -outer
		}
		q.twin = inner >= 0 && outer > 0 && !oneSide
		q.ends = [2]end{{point, solid.Spot[float64]{Left: inner}}, {point, solid.Spot[float64]{Left: outer}}}
		all = append(all, q)
	}
	return all
}

// fixed are the crown, and what is bolted to it.
func fixed(p *fork.Package, m *kinematics.Mechanism) []part {
	crown := part{
		name: "crown", radius: p.CrownRadiusMM, member: -1, still: true, joined: true,
		bodies: []int{m.Ground(), onCrown}, points: []int{m.Point(kinematics.PointRoot)},
	}
	crown.ends = [2]end{{point: -1}, {m.Point(kinematics.PointRoot), solid.Spot[float64]{Along: -p.CrownRadiusMM}}}
	all := []part{crown}
	for _, c := range p.Steered {
		all = append(all, fixture(&c))
		all[len(all)-1].bodies = []int{onCrown}
	}
	return all
}

// fixture is a capsule that stays where it is.
func fixture(c *fork.Capsule) part {
	q := part{name: c.Name, radius: c.RadiusMM, member: -1, still: true, joined: c.Joined}
	for k, at := range c.Ends {
		q.ends[k] = end{-1, at}
	}
	return q
}
