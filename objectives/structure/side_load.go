package structure

import (
	"forkfront/kinematics"
	"forkfront/kinematics/plane"
	"forkfront/objectives/scalar"
)

// sideload is what acts across the plane: a force in N, and a couple in the plane about the origin
// of the fork frame, N·mm. The third direction is that of along × ahead.
type sideload[T kinematics.Scalar] struct {
	force  T
	couple plane.Vec[T]
}

func (l *sideload[T]) add(by sideload[T]) {
	l.force += by.force
	l.couple.Along += by.couple.Along
	l.couple.Ahead += by.couple.Ahead
}

func (l sideload[T]) turned() sideload[T] {
	return sideload[T]{-l.force, plane.Vec[T]{Along: -l.couple.Along, Ahead: -l.couple.Ahead}}
}

// lever is the couple of a force across the plane that acts at a place.
func lever[T kinematics.Scalar](at plane.Vec[T], force T) plane.Vec[T] {
	return plane.Vec[T]{Along: at.Ahead * force, Ahead: -at.Along * force}
}

// about is the couple about a place.
func (l *sideload[T]) about(at plane.Vec[T]) plane.Vec[T] { return l.couple.Minus(lever(at, l.force)) }

// sideways carries a side force at the contact point through the fork: body by body towards the
// ground. One pivot takes all; two take the force by the lever rule, and share the twist about the
// line between them. This is an approximation that can be followed by hand; the space frame is what
// it stands in for.
func (st *statics[T]) sideways(sd *stand[T], radius float64, force T) {
	clear(st.sides)
	p, state := st.path, sd.state
	r := kinematics.Lift[T](radius)
	contact := plane.Vec[T]{Along: state.Along + r*state.SinHead, Ahead: state.Ahead - r*state.CosHead}
	st.sides[p.axle].add(sideload[T]{force, lever(contact, force)})
	for _, s := range p.side {
		st.handOn(sd, &s)
	}
	for i := len(p.members) - 1; i >= 0; i-- {
		st.sides[p.from[i]].add(st.sides[i])
	}
}

// handOn has a body's supports bear what the body has got so far.
func (st *statics[T]) handOn(sd *stand[T], s *sidestep) {
	p := st.path
	var all sideload[T]
	for i, mb := range p.members {
		if mb.Body == s.body {
			all.add(st.sides[i])
		}
	}
	all.add(st.sides[len(p.members)+s.body])
	if s.supports[1] < 0 {
		st.bear(s.supports[0], s.body, all)
		return
	}
	a, b := st.pinAt(sd, s.supports[0]), st.pinAt(sd, s.supports[1])
	line := b.Minus(a)
	square := line.Dot(line)
	about := all.about(a)
	// A force at b turns the body about the normal of the line; the rest of the couple is a twist.
	atB := about.Cross(line) / square
	twist := line.Times(about.Dot(line) / square / 2)
	second := sideload[T]{atB, lever(b, atB)}
	second.add(sideload[T]{couple: twist})
	st.bear(s.supports[1], s.body, second)
	all.add(second.turned())
	st.bear(s.supports[0], s.body, all)
}

func (st *statics[T]) pinAt(sd *stand[T], joint int) plane.Vec[T] {
	_, _, point := st.path.m.Joint(joint)
	return sd.places[point]
}

// bear passes a load from a body through a joint to the other one.
func (st *statics[T]) bear(joint, body int, l sideload[T]) {
	p := st.path
	a, _, _ := p.m.Joint(joint)
	from, to := p.joints[joint][0], p.joints[joint][1]
	if a != body {
		from, to = to, from
	}
	st.sides[from].add(l.turned())
	if to >= 0 {
		st.sides[to].add(l)
	}
}

// aside is what the more loaded tube of member i carries of the side load. A pair takes the couple
// across its own plane as push and pull, and bends as a portal frame with its points of no moment
// half way (portal method, a textbook approximation); twist goes into the tubes. A single tube takes
// all of it as bending and twist. Twist counts by von Mises: √(M² + ¾ T²).
func (st *statics[T]) aside(sd *stand[T], i int, tubes, halfWidth float64, length T) demand[T] {
	mb, l, u := &st.path.members[i], &st.sides[i], sd.along[i]
	start, end := l.about(sd.places[mb.From]), l.about(sd.places[mb.To])
	twist := start.Dot(u)
	from, to := u.Cross(start), u.Cross(end)
	if tubes == 1 || halfWidth == 0 {
		return demand[T]{bending: scalar.Hypot(scalar.Higher(kinematics.Abs(from), kinematics.Abs(to)), twist*mises)}
	}
	push := kinematics.Abs(from+to) * kinematics.Lift[T](0.25/halfWidth)
	return demand[T]{axial: push, pressing: push, bending: scalar.Hypot(l.force*length*0.25, twist*(mises/2))}
}

// mises is how much of a twist counts as bending: √¾.
const mises = 0.8660254037844386
