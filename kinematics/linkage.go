package kinematics

import "math"

// Drive is how far the driving body has come since top-out: the cosine and sine of its turn, or
// its way along its slide in mm.
type Drive struct{ Cos, Sin, Way float64 }

// linkage is one mechanism with coordinates, and one worker's memory of where its bodies are.
type linkage[T Scalar] struct {
	m         *Mechanism
	layout    []Vec[T] // top-out position of each point
	offset    []Vec[T] // of each point from a body's anchor at top-out, by body and point
	dyads     []triangle[T]
	groups    []cluster[T] // by step
	slide     Vec[T]       // unit vector of the driving slide
	drive     drive[T]
	kept      []Pose[T]
	keptDrive drive[T]
	pose      []Pose[T]
	rate      []Rate[T] // per unit of drive: radian or mm
	accel     []Rate[T] // per unit of drive squared
}

type drive[T Scalar] struct{ cos, sin, way T }

// triangle holds what stays the same of a dyad: squared lengths from the held pivots to the tip,
// the offsets at top-out, and the side of the line on which the tip lies.
type triangle[T Scalar] struct {
	square  [2]T
	inverse [2]T
	arm     [2]Vec[T] // from the held pivot to the tip, at top-out
	scale   T         // inverse of the product of the two lengths
	side    T
	reach   [2]Vec[T] // from the held pivot to the tip, now
	cross   T         // of the two reaches, now
}

// set takes the coordinates; the reason is empty when the linkage can be assembled so.
func (l *linkage[T]) set(m *Mechanism, layout []Vec[T]) string {
	l.m = m
	l.layout = append(l.layout[:0], layout...)
	l.pose = resize(l.pose, len(m.Bodies))
	l.rate = resize(l.rate, len(m.Bodies))
	l.accel = resize(l.accel, len(m.Bodies))
	l.dyads = resize(l.dyads, len(m.steps))
	l.groups = resize(l.groups, len(m.steps))
	l.drive = drive[T]{cos: 1}
	for b := range l.pose {
		l.pose[b] = Pose[T]{At: layout[m.anchor[b]], Cos: 1}
		l.rate[b] = Rate[T]{}
	}
	l.offset = resize(l.offset, len(m.Bodies)*len(m.Points))
	for p, bodies := range m.carried {
		for _, b := range bodies {
			l.offset[b*len(m.Points)+p] = layout[p].minus(layout[m.anchor[b]])
		}
	}
	for i := range m.steps {
		s := &m.steps[i]
		switch s.kind {
		case slideDrive:
			line := layout[s.through[1]].minus(layout[s.through[0]])
			length := Sqrt(line.dot(line))
			if Real(length) < 1e-6 {
				return "the two points of the slide coincide"
			}
			l.slide = line.times(1 / length)
		case dyad:
			if reason := l.dyads[i].set(layout, s); reason != "" {
				return reason
			}
		case slideDyad, together:
			if reason := l.groups[i].set(l, s.group); reason != "" {
				return reason
			}
		}
	}
	return ""
}

// straight is the smallest sine of the angle between the links of a dyad at which its branch can
// still be told from its mirror image.
const straight = 1e-9

func (t *triangle[T]) set(layout []Vec[T], s *step) string {
	for i := range 2 {
		t.arm[i] = layout[s.tip].minus(layout[s.on[i].point])
		t.square[i] = t.arm[i].dot(t.arm[i])
		if Real(t.square[i]) < 1e-12 {
			return "two pivots of one link coincide"
		}
		t.inverse[i] = Inverse(t.square[i])
	}
	cross := Real(t.arm[0].cross(t.arm[1]))
	scale := math.Sqrt(Real(t.square[0]) * Real(t.square[1]))
	if math.Abs(cross) <= straight*scale {
		return "two links stand in line at top-out, so their motion is not determined"
	}
	t.scale = Sqrt(t.inverse[0] * t.inverse[1])
	t.side = Lift[T](1)
	if cross < 0 {
		t.side = Lift[T](-1)
	}
	return ""
}

// arm is from a body's anchor to one of its points, now.
func (l *linkage[T]) arm(p place) Vec[T] {
	return l.pose[p.body].turned(l.offset[p.body*len(l.m.Points)+p.point])
}

// at returns where a point of a body is now.
func (l *linkage[T]) at(p place) Vec[T] { return l.pose[p.body].At.plus(l.arm(p)) }

// velocity of a point of a body, per unit of drive.
func (l *linkage[T]) velocity(p place) Vec[T] {
	r := &l.rate[p.body]
	return r.At.plus(l.arm(p).quarter().times(r.Turn))
}

// acceleration of a point of a body, per unit of drive squared.
func (l *linkage[T]) acceleration(p place) Vec[T] {
	a, turn, arm := &l.accel[p.body], l.rate[p.body].Turn, l.arm(p)
	return a.At.plus(arm.quarter().times(a.Turn)).minus(arm.times(turn * turn))
}

// locate places all bodies for a position of the driver. It returns the step that cannot be
// closed, or -1.
func (l *linkage[T]) locate(d drive[T]) int {
	by := onward(d, l.drive)
	l.drive = d
	for i := range l.m.steps {
		s := &l.m.steps[i]
		if s.kind == dyad {
			if !l.close(s, &l.dyads[i]) {
				return i
			}
			continue
		}
		if s.group != nil {
			if !l.groups[i].close(l, s.group, by) {
				return i
			}
			continue
		}
		at := l.layout[s.on[0].point]
		if s.kind == slideDrive {
			at = at.plus(l.slide.times(d.way))
		}
		l.pose[s.body[0]] = Pose[T]{At: at, Cos: d.cos, Sin: d.sin}
	}
	return -1
}

// close finds the tip of a dyad from its two held pivots: the intersection of two circles on the
// side of top-out.
func (l *linkage[T]) close(s *step, t *triangle[T]) bool {
	a, b := l.at(s.on[0]), l.at(s.on[1])
	line := b.minus(a)
	inverse := Inverse(line.dot(line))
	along := (t.square[0] - t.square[1]) * inverse
	along = (along + 1) * 0.5
	height := t.square[0]*inverse - along*along
	if !(Real(height) > 0) { // also when the held pivots coincide
		return false
	}
	across := t.side * Sqrt(height)
	t.reach[0] = line.times(along).plus(line.quarter().times(across))
	t.reach[1] = t.reach[0].minus(line)
	t.cross = t.reach[0].cross(t.reach[1])
	l.pose[s.body[0]] = t.swung(a, 0)
	l.pose[s.body[1]] = t.swung(b, 1)
	return true
}

// swung is the pose of a link from its held pivot and its reach.
func (t *triangle[T]) swung(held Vec[T], i int) Pose[T] {
	return Pose[T]{At: held, Cos: t.arm[i].dot(t.reach[i]) * t.inverse[i], Sin: t.arm[i].cross(t.reach[i]) * t.inverse[i]}
}

// rates finds the velocities per unit of drive from the closure equations, differentiated.
func (l *linkage[T]) rates() {
	for i := range l.m.steps {
		s := &l.m.steps[i]
		switch s.kind {
		case turnDrive:
			l.rate[s.body[0]] = Rate[T]{Turn: 1}
		case slideDrive:
			l.rate[s.body[0]] = Rate[T]{At: l.slide}
		case dyad:
			va, vb := l.velocity(s.on[0]), l.velocity(s.on[1])
			wa, wb := l.dyads[i].spin(vb.minus(va))
			l.rate[s.body[0]] = Rate[T]{va, wa}
			l.rate[s.body[1]] = Rate[T]{vb, wb}
		case slideDyad, together:
			l.groups[i].rates(l, s.group)
		}
	}
}

// spin solves wa J ra − wb J rb = gap for the two angular rates of a dyad, r being its reaches.
func (t *triangle[T]) spin(gap Vec[T]) (wa, wb T) {
	inverse := Inverse(t.cross)
	return gap.dot(t.reach[1]) * inverse, gap.dot(t.reach[0]) * inverse
}

// accelerations finds second derivatives per unit of drive squared, the drive itself steady.
func (l *linkage[T]) accelerations() {
	for i := range l.m.steps {
		s := &l.m.steps[i]
		if s.group != nil {
			l.groups[i].accelerations(l, s.group)
			continue
		}
		if s.kind != dyad {
			l.accel[s.body[0]] = Rate[T]{}
			continue
		}
		t := &l.dyads[i]
		aa, ab := l.acceleration(s.on[0]), l.acceleration(s.on[1])
		wa, wb := l.rate[s.body[0]].Turn, l.rate[s.body[1]].Turn
		gap := ab.minus(aa).plus(t.reach[0].times(wa * wa)).minus(t.reach[1].times(wb * wb))
		ta, tb := t.spin(gap)
		l.accel[s.body[0]] = Rate[T]{aa, ta}
		l.accel[s.body[1]] = Rate[T]{ab, tb}
	}
}

// recall puts what Newton starts from where a solved state has it. The dyads need no start.
func (l *linkage[T]) recall(s *State[float64]) {
	l.drive = drive[T]{Lift[T](s.Drive.Cos), Lift[T](s.Drive.Sin), Lift[T](s.Drive.Way)}
	for i := range l.m.steps {
		if g := l.m.steps[i].group; g != nil {
			for k := range g.limbs {
				b := g.limbs[k].body
				p := &s.Pose[b]
				l.pose[b] = Pose[T]{Vec[T]{Lift[T](p.At.Along), Lift[T](p.At.Ahead)}, Lift[T](p.Cos), Lift[T](p.Sin)}
			}
		}
	}
}

// standAs puts all bodies where a solved state of a driver and dyads has them, the rates per mm of
// travel as its.
func (l *linkage[T]) standAs(s *State[T]) {
	copy(l.pose, s.Pose)
	copy(l.rate, s.Rate)
	l.reach()
}

// reach finds how the dyads stand from the poses of their bodies.
func (l *linkage[T]) reach() {
	for i := range l.m.steps {
		s, t := &l.m.steps[i], &l.dyads[i]
		if s.kind == dyad {
			t.reach[0], t.reach[1] = l.pose[s.body[0]].turned(t.arm[0]), l.pose[s.body[1]].turned(t.arm[1])
			t.cross = t.reach[0].cross(t.reach[1])
		}
	}
}

// keep remembers where all bodies are, and back returns there.
func (l *linkage[T]) keep() {
	l.kept, l.keptDrive = append(l.kept[:0], l.pose...), l.drive
}

func (l *linkage[T]) back() {
	copy(l.pose, l.kept)
	l.drive = l.keptDrive
	l.locate(l.drive)
	l.rates()
}

// shift moves all bodies by a small step of the drive along their rates. The error is of the
// second order in the step.
func (l *linkage[T]) shift(by T) {
	for b := range l.pose {
		if b == l.m.ground {
			continue
		}
		p, r := &l.pose[b], &l.rate[b]
		turn := r.Turn * by
		p.At = p.At.plus(r.At.times(by))
		p.Cos, p.Sin = p.Cos-p.Sin*turn, p.Sin+p.Cos*turn
	}
	l.drive = moved(l.drive, by, l.m.steps[0].kind)
}

// onward is about how far a drive has come since another: a first guess for Newton.
func onward[T Scalar](to, from drive[T]) T {
	return to.sin*from.cos - to.cos*from.sin + to.way - from.way
}

// moved is the drive a step on; the rotation is exact however large the step.
func moved[T Scalar](d drive[T], by T, kind stepKind) drive[T] {
	if kind == slideDrive {
		d.way += by
		return d
	}
	half := by * (1 + by*by/12) / 2 // tan(by/2) to the third order
	square := half * half
	scale := Inverse(1 + square)
	cos, sin := (1-square)*scale, 2*half*scale
	d.cos, d.sin = d.cos*cos-d.sin*sin, d.sin*cos+d.cos*sin
	return d
}
