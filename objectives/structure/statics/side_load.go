package statics

import (
	"forkfront/kinematics"
	"forkfront/kinematics/plane"
	"forkfront/objectives/scalar"
	"forkfront/objectives/structure/loadpath"
	"forkfront/objectives/structure/parts"
)

// sideLoad is a load across the plane: a force in N, and a couple in the plane about the origin
// of the fork frame, N·mm. The third direction is that of along × ahead.
type sideLoad[T kinematics.Scalar] struct {
	force  T
	couple plane.Vec[T]
}

func (l *sideLoad[T]) add(by sideLoad[T]) {
	l.force += by.force
	l.couple.Along += by.couple.Along
	l.couple.Ahead += by.couple.Ahead
}

func (l sideLoad[T]) turned() sideLoad[T] {
	return sideLoad[T]{-l.force, plane.Vec[T]{Along: -l.couple.Along, Ahead: -l.couple.Ahead}}
}

// lever is the couple of a force across the plane that acts at a point.
func lever[T kinematics.Scalar](at plane.Vec[T], force T) plane.Vec[T] {
	return plane.Vec[T]{Along: at.Ahead * force, Ahead: -at.Along * force}
}

// about is the couple about a point.
func (l *sideLoad[T]) about(at plane.Vec[T]) plane.Vec[T] { return l.couple.Minus(lever(at, l.force)) }

// Sideways passes a side force at the contact point through the fork, body by body towards the ground. One pivot takes
// all of it; two share the force by the lever rule and the twist about the line between them. This is an approximation of
// the space frame that can be followed by hand.
func (st *Solver[T]) Sideways(sd *Placed[T], radius float64, force T) {
	clear(st.sides)
	p, state := st.path, sd.State
	r := kinematics.Lift[T](radius)
	contact := plane.Vec[T]{Along: state.Along + r*state.SinHead, Ahead: state.Ahead - r*state.CosHead}
	st.sides[p.Axle].add(sideLoad[T]{force, lever(contact, force)})
	for _, s := range p.SideSteps {
		st.passOn(sd, &s)
	}
	for i := len(p.Members) - 1; i >= 0; i-- {
		st.sides[p.From[i]].add(st.sides[i])
	}
}

// passOn passes the load on a body to its supports.
func (st *Solver[T]) passOn(sd *Placed[T], s *loadpath.SideStep) {
	p := st.path
	var all sideLoad[T]
	for i, mb := range p.Members {
		if mb.Body == s.Body {
			all.add(st.sides[i])
		}
	}
	all.add(st.sides[len(p.Members)+s.Body])
	if s.Supports[1] < 0 {
		st.transfer(s.Supports[0], s.Body, all)
		return
	}
	a, b := st.pinAt(sd, s.Supports[0]), st.pinAt(sd, s.Supports[1])
	line := b.Minus(a)
	square := line.Dot(line)
	about := all.about(a)
	// A force at b rotates the body about the normal of the line; the rest of the couple is a twist.
	atB := about.Cross(line) / square
	twist := line.Times(about.Dot(line) / square / 2)
	second := sideLoad[T]{atB, lever(b, atB)}
	second.add(sideLoad[T]{couple: twist})
	st.transfer(s.Supports[1], s.Body, second)
	all.add(second.turned())
	st.transfer(s.Supports[0], s.Body, all)
}

func (st *Solver[T]) pinAt(sd *Placed[T], joint int) plane.Vec[T] {
	_, _, point := st.path.Mechanism.Joint(joint)
	return sd.Places[point]
}

// transfer passes a load from a body through a joint to the other one.
func (st *Solver[T]) transfer(joint, body int, l sideLoad[T]) {
	p := st.path
	a, _, _ := p.Mechanism.Joint(joint)
	from, to := p.SideNodes[joint][0], p.SideNodes[joint][1]
	if a != body {
		from, to = to, from
	}
	st.sides[from].add(l.turned())
	if to >= 0 {
		st.sides[to].add(l)
	}
}

// FromSide is the demand of the side load on the more heavily loaded tube of member i. A pair takes the couple across its
// own plane as compression and tension, and bends as a portal frame with its points of inflection half way (portal
// method, a textbook approximation); the tubes take the twist. A single tube takes all of it as bending and twist. Twist
// counts by von Mises: √(M² + ¾ T²).
func (st *Solver[T]) FromSide(sd *Placed[T], i int, tubes, halfWidth float64, length T) parts.Demand[T] {
	mb, l, u := &st.path.Members[i], &st.sides[i], sd.Along[i]
	start, end := l.about(sd.Places[mb.From]), l.about(sd.Places[mb.To])
	twist := start.Dot(u)
	from, to := u.Cross(start), u.Cross(end)
	if tubes == 1 || halfWidth == 0 {
		return parts.Demand[T]{Bending: scalar.Hypot(scalar.Higher(kinematics.Abs(from), kinematics.Abs(to)), twist*mises)}
	}
	push := kinematics.Abs(from+to) * kinematics.Lift[T](0.25/halfWidth)
	return parts.Demand[T]{Axial: push, Compression: push, Bending: scalar.Hypot(l.force*length*0.25, twist*(mises/2))}
}
