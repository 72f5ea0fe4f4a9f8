package mechanism

import (
	"forkfront/kinematics/plane"
)

// Load is what acts on a body in the plane: a force in N, and its moment in N·mm about the origin
// of the fork frame, positive from along to ahead.
type Load[T plane.Scalar] struct {
	Force  plane.Vec[T]
	Moment T
}

// Push adds a force that acts at a place.
func (l *Load[T]) Push(force, at plane.Vec[T]) {
	l.Force = l.Force.Plus(force)
	l.Moment += at.Cross(force)
}

// Add puts another load on top.
func (l *Load[T]) Add(by Load[T]) {
	l.Force = l.Force.Plus(by.Force)
	l.Moment += by.Moment
}

// About is the moment about a place, in N·mm.
func (l *Load[T]) About(at plane.Vec[T]) T { return l.Moment - at.Cross(l.Force) }

// minus is the load turned round.
func (l Load[T]) minus() Load[T] {
	return Load[T]{plane.Vec[T]{Along: -l.Force.Along, Ahead: -l.Force.Ahead}, -l.Moment}
}

// JointLoads finds the loads in all joints from the planar equilibrium of every body that moves. loads has
// an entry a body: what acts on it from outside, the shock included, whose force has to balance the
// rest. dst has an entry a joint: the load on its second body. places are where the points are.
//
// Dyads are solved in the reverse of the order in which they are placed, each from the moments about
// its two held pivots. What loads become is the resultant on each body: nothing but rounding on one
// that moves, and on the ground all that the frame has to hold.
func JointLoads[T plane.Scalar](m *Mechanism, dst, loads []Load[T], places []plane.Vec[T]) {
	for i := len(m.steps) - 1; i >= 0; i-- {
		s, h := &m.steps[i], &m.holds[i]
		if s.Group != nil {
			holdGroup(m, s.Group, dst, loads, places)
			continue
		}
		if s.Kind == SlideDrive {
			by := loads[s.Body[0]].minus()
			react(m, dst, loads, h.on[0], s.Body[0], &by)
			continue
		}
		if s.Kind == Dyad {
			a, b, tip := places[s.On[0].Point], places[s.On[1].Point], places[s.Tip]
			var by Load[T]
			by.Push(tipForce(tip.Minus(a), tip.Minus(b), loads[s.Body[0]].About(a), loads[s.Body[1]].About(b)), tip)
			react(m, dst, loads, h.tip, s.Body[0], &by)
			loadPin(m, dst, loads, h.on[1], s.Body[1], b)
		}
		loadPin(m, dst, loads, h.on[0], s.Body[0], places[s.On[0].Point])
	}
}

// tipForce is the force on a dyad's first body at its tip, from the moments of the loads on both
// bodies about their held pivots: r0 × X = −m0, r1 × X = m1.
func tipForce[T plane.Scalar](r0, r1 plane.Vec[T], m0, m1 T) plane.Vec[T] {
	inverse := plane.Inverse(r0.Cross(r1))
	return r0.Times(-m1 * inverse).Minus(r1.Times(m0 * inverse))
}

// loadPin has the pin at a place bear the force on a body.
func loadPin[T plane.Scalar](m *Mechanism, dst, loads []Load[T], joint, body int, at plane.Vec[T]) {
	f := &loads[body].Force
	by := Load[T]{Force: plane.Vec[T]{Along: -f.Along, Ahead: -f.Ahead}}
	by.Moment = at.Along*by.Force.Ahead - at.Ahead*by.Force.Along
	react(m, dst, loads, joint, body, &by)
}

// react lets a joint bear on a body, and as much the other way on the other one.
func react[T plane.Scalar](m *Mechanism, dst, loads []Load[T], joint, body int, by *Load[T]) {
	j := &m.joints[joint]
	other, on := j.A, &dst[joint]
	on.Force.Along, on.Force.Ahead, on.Moment = by.Force.Along, by.Force.Ahead, by.Moment
	if body == j.A {
		other = j.B
		on.Force.Along, on.Force.Ahead, on.Moment = -by.Force.Along, -by.Force.Ahead, -by.Moment
	}
	b, o := &loads[body], &loads[other]
	b.Force.Along += by.Force.Along
	b.Force.Ahead += by.Force.Ahead
	b.Moment += by.Moment
	o.Force.Along -= by.Force.Along
	o.Force.Ahead -= by.Force.Ahead
	o.Moment -= by.Moment
}
