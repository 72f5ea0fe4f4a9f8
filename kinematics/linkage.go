package kinematics

import (
	"math"

	"forkfront/kinematics/mechanism"
	"forkfront/kinematics/plane"
	"forkfront/kinematics/stance"
)

// linkage is one mechanism with coordinates, and one worker's memory of where its bodies are.
type linkage[T plane.Scalar] struct {
	m        *mechanism.Mechanism
	layout   []plane.Vec[T] // top-out position of each point
	offset   []plane.Vec[T] // of each point from a body's anchor at top-out, by body and point
	dyads    []dyadState[T]
	groups   []groupState[T]   // by step
	measured [][]groupState[T] // by arrangement and step: for angles only
	slide    plane.Vec[T]      // unit vector of the driving slide
	drive    drive[T]
	pose     []plane.Pose[T]
	rate     []plane.Rate[T] // per unit of drive: radian or mm
	accel    []plane.Rate[T] // per unit of drive squared
}

type drive[T plane.Scalar] struct{ cos, sin, way T }

// dyadState holds what stays the same of a dyad: squared lengths from the held pivots to the tip,
// the offsets at top-out, and the side of the line on which the tip lies.
type dyadState[T plane.Scalar] struct {
	square  [2]T
	inverse [2]T
	offset  [2]plane.Vec[T] // from the held pivot to the tip, at top-out
	scale   T               // inverse of the product of the two lengths
	side    T
	link    [2]plane.Vec[T] // from the held pivot to the tip, now
	cross   T               // of the two reaches, now
}

// set takes the coordinates; the reason is empty when the linkage can be assembled so.
func (l *linkage[T]) set(m *mechanism.Mechanism, layout []plane.Vec[T]) string {
	l.m = m
	l.layout = append(l.layout[:0], layout...)
	l.pose = plane.Resize(l.pose, len(m.Bodies))
	l.rate = plane.Resize(l.rate, len(m.Bodies))
	l.accel = plane.Resize(l.accel, len(m.Bodies))
	l.dyads = plane.Resize(l.dyads, len(m.Steps()))
	l.groups = plane.Resize(l.groups, len(m.Steps()))
	l.drive = drive[T]{cos: 1}
	for b := range l.pose {
		l.pose[b] = plane.Pose[T]{At: layout[m.Anchors()[b]], Cos: 1}
		l.rate[b], l.accel[b] = plane.Rate[T]{}, plane.Rate[T]{}
	}
	l.offset = plane.Resize(l.offset, len(m.Bodies)*len(m.Points))
	for p, bodies := range m.Carried() {
		for _, b := range bodies {
			l.offset[b*len(m.Points)+p] = layout[p].Minus(layout[m.Anchors()[b]])
		}
	}
	l.prepareAngles()
	for i := range m.Steps() {
		s := &m.Steps()[i]
		switch s.Kind {
		case mechanism.SlideDrive:
			line := layout[s.Through[1]].Minus(layout[s.Through[0]])
			length := plane.Sqrt(line.Dot(line))
			if plane.Real(length) < 1e-6 {
				return "the two points of the slide coincide"
			}
			l.slide = line.Times(1 / length)
		case mechanism.Dyad:
			if reason := l.dyads[i].set(layout, s); reason != "" {
				return reason
			}
		case mechanism.SlideDyad, mechanism.Together:
			if reason := l.groups[i].set(l, s.Group); reason != "" {
				return reason
			}
		}
	}
	return ""
}

// leastSine is the smallest sine of the angle between the links of a dyad at which its branch can
// still be distinguished from its mirror image.
const leastSine = 1e-9

func (t *dyadState[T]) set(layout []plane.Vec[T], s *mechanism.Step) string {
	for i := range 2 {
		t.offset[i] = layout[s.Tip].Minus(layout[s.On[i].Point])
		t.square[i] = t.offset[i].Dot(t.offset[i])
		if plane.Real(t.square[i]) < 1e-12 {
			return "two pivots of one link coincide"
		}
		t.inverse[i] = plane.Inverse(t.square[i])
	}
	cross := plane.Real(t.offset[0].Cross(t.offset[1]))
	scale := math.Sqrt(plane.Real(t.square[0]) * plane.Real(t.square[1]))
	if math.Abs(cross) <= leastSine*scale {
		return "two links stand in line at top-out, so their motion is not determined"
	}
	t.scale = plane.Sqrt(t.inverse[0] * t.inverse[1])
	t.side = plane.Lift[T](1)
	if cross < 0 {
		t.side = plane.Lift[T](-1)
	}
	return ""
}

// arm is from a body's anchor to one of its points, now.
func (l *linkage[T]) arm(p mechanism.BodyPoint) plane.Vec[T] {
	return l.pose[p.Body].Turned(l.offset[p.Body*len(l.m.Points)+p.Point])
}

// at returns where a point of a body is now.
func (l *linkage[T]) at(p mechanism.BodyPoint) plane.Vec[T] { return l.pose[p.Body].At.Plus(l.arm(p)) }

// velocity of a point of a body, per unit of drive.
func (l *linkage[T]) velocity(p mechanism.BodyPoint) plane.Vec[T] {
	r := &l.rate[p.Body]
	return r.At.Plus(l.arm(p).Quarter().Times(r.Turn))
}

// acceleration of a point of a body, per unit of drive squared.
func (l *linkage[T]) acceleration(p mechanism.BodyPoint) plane.Vec[T] {
	a, turn, arm := &l.accel[p.Body], l.rate[p.Body].Turn, l.arm(p)
	return a.At.Plus(arm.Quarter().Times(a.Turn)).Minus(arm.Times(turn * turn))
}

// locate places all bodies for a position of the driver. It returns the step that cannot be
// closed, or -1.
func (l *linkage[T]) locate(d drive[T]) int {
	by := onward(d, l.drive)
	l.drive = d
	for i := range l.m.Steps() {
		s := &l.m.Steps()[i]
		if s.Kind == mechanism.Dyad {
			if !l.close(s, &l.dyads[i]) {
				return i
			}
			continue
		}
		if s.Group != nil {
			if !l.groups[i].close(l, s.Group, by) {
				return i
			}
			continue
		}
		at := l.layout[s.On[0].Point]
		if s.Kind == mechanism.SlideDrive {
			at = at.Plus(l.slide.Times(d.way))
		}
		l.pose[s.Body[0]] = plane.Pose[T]{At: at, Cos: d.cos, Sin: d.sin}
	}
	return -1
}

// close finds the tip of a dyad from its two held pivots: the intersection of two circles on the
// side of top-out.
func (l *linkage[T]) close(s *mechanism.Step, t *dyadState[T]) bool {
	a, b := l.at(s.On[0]), l.at(s.On[1])
	line := b.Minus(a)
	inverse := plane.Inverse(line.Dot(line))
	along := (t.square[0] - t.square[1]) * inverse
	along = (along + 1) * 0.5
	height := t.square[0]*inverse - along*along
	if !(plane.Real(height) > 0) { // also when the held pivots coincide
		return false
	}
	across := t.side * plane.Sqrt(height)
	t.link[0] = line.Times(along).Plus(line.Quarter().Times(across))
	t.link[1] = t.link[0].Minus(line)
	t.cross = t.link[0].Cross(t.link[1])
	l.pose[s.Body[0]] = t.swung(a, 0)
	l.pose[s.Body[1]] = t.swung(b, 1)
	return true
}

// swung is the pose of a link from its held pivot and its reach.
func (t *dyadState[T]) swung(held plane.Vec[T], i int) plane.Pose[T] {
	return plane.Pose[T]{At: held, Cos: t.offset[i].Dot(t.link[i]) * t.inverse[i], Sin: t.offset[i].Cross(t.link[i]) * t.inverse[i]}
}

// rates finds the velocities per unit of drive from the closure equations, differentiated.
func (l *linkage[T]) rates() {
	for i := range l.m.Steps() {
		s := &l.m.Steps()[i]
		switch s.Kind {
		case mechanism.TurnDrive:
			l.rate[s.Body[0]] = plane.Rate[T]{Turn: 1}
		case mechanism.SlideDrive:
			l.rate[s.Body[0]] = plane.Rate[T]{At: l.slide}
		case mechanism.Dyad:
			va, vb := l.velocity(s.On[0]), l.velocity(s.On[1])
			wa, wb := l.dyads[i].spin(vb.Minus(va))
			l.rate[s.Body[0]] = plane.Rate[T]{At: va, Turn: wa}
			l.rate[s.Body[1]] = plane.Rate[T]{At: vb, Turn: wb}
		case mechanism.SlideDyad, mechanism.Together:
			l.groups[i].rates(l, s.Group)
		}
	}
}

// spin solves wa J ra − wb J rb = gap for the two angular rates of a dyad, r being its reaches.
func (t *dyadState[T]) spin(gap plane.Vec[T]) (wa, wb T) {
	inverse := plane.Inverse(t.cross)
	return gap.Dot(t.link[1]) * inverse, gap.Dot(t.link[0]) * inverse
}

// accelerations finds second derivatives per unit of drive squared, the drive itself steady.
func (l *linkage[T]) accelerations() {
	for i := range l.m.Steps() {
		s := &l.m.Steps()[i]
		if s.Group != nil {
			l.groups[i].accelerations(l, s.Group)
			continue
		}
		if s.Kind != mechanism.Dyad {
			l.accel[s.Body[0]] = plane.Rate[T]{}
			continue
		}
		t := &l.dyads[i]
		aa, ab := l.acceleration(s.On[0]), l.acceleration(s.On[1])
		wa, wb := l.rate[s.Body[0]].Turn, l.rate[s.Body[1]].Turn
		gap := ab.Minus(aa).Plus(t.link[0].Times(wa * wa)).Minus(t.link[1].Times(wb * wb))
		ta, tb := t.spin(gap)
		l.accel[s.Body[0]] = plane.Rate[T]{At: aa, Turn: ta}
		l.accel[s.Body[1]] = plane.Rate[T]{At: ab, Turn: tb}
	}
}

// recall puts what Newton starts from where a solved state has it. The dyads need no start.
func (l *linkage[T]) recall(d stance.Drive, poses []plane.Pose[float64]) {
	l.drive = drive[T]{plane.Lift[T](d.Cos), plane.Lift[T](d.Sin), plane.Lift[T](d.Way)}
	for i := range l.m.Steps() {
		if g := l.m.Steps()[i].Group; g != nil {
			for k := range g.Links {
				b := g.Links[k].Body
				p := &poses[b]
				l.pose[b] = plane.Pose[T]{At: plane.Vec[T]{Along: plane.Lift[T](p.At.Along), Ahead: plane.Lift[T](p.At.Ahead)}, Cos: plane.Lift[T](p.Cos), Sin: plane.Lift[T](p.Sin)}
			}
		}
	}
}

// standAs puts all bodies where a solved state of a driver and dyads has them, the rates per mm of
// travel as its.
func (l *linkage[T]) standAs(poses []plane.Pose[T], rates []plane.Rate[T]) {
	copy(l.pose, poses)
	copy(l.rate, rates)
	l.refreshDyads()
}

// refreshDyads finds how the dyads stand from the poses of their bodies.
func (l *linkage[T]) refreshDyads() {
	for i := range l.m.Steps() {
		s, t := &l.m.Steps()[i], &l.dyads[i]
		if s.Kind == mechanism.Dyad {
			t.link[0], t.link[1] = l.pose[s.Body[0]].Turned(t.offset[0]), l.pose[s.Body[1]].Turned(t.offset[1])
			t.cross = t.link[0].Cross(t.link[1])
		}
	}
}

// onward is about how far a drive has come since another: a first guess for Newton.
func onward[T plane.Scalar](to, from drive[T]) T {
	return to.sin*from.cos - to.cos*from.sin + to.way - from.way
}

// driven is the drive from the pose of the body that drives.
func (l *linkage[T]) driven() drive[T] {
	s := &l.m.Steps()[0]
	p := &l.pose[s.Body[0]]
	d := drive[T]{cos: p.Cos, sin: p.Sin}
	if s.Kind == mechanism.SlideDrive {
		d.way = p.At.Minus(l.layout[s.On[0].Point]).Dot(l.slide)
	}
	return d
}
