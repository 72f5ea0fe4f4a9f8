package statics

import (
	"forkfront/kinematics"
	"forkfront/kinematics/mechanism"
	"forkfront/kinematics/plane"
)

// BushForces are those of a slide's two bushes on the sliding body, in N, along square: at the mouth of the outer tube,
// and at the end of the inner one.
type BushForces[T kinematics.Scalar] struct {
	AtMouth, AtEnd T
	square         plane.Vec[T] // unit vector square to the tubes
}

// larger is the force of the bush that bears more.
func (b *BushForces[T]) larger() T {
	if kinematics.Real(kinematics.Abs(b.AtMouth)) > kinematics.Real(kinematics.Abs(b.AtEnd)) {
		return b.AtMouth
	}
	return b.AtEnd
}

// Sum is what both bushes press with, regardless of direction.
func (b *BushForces[T]) Sum() T { return kinematics.Abs(b.AtMouth) + kinematics.Abs(b.AtEnd) }

// bearSlides finds the forces of the bushes that bear what slides pass on, and applies them to the tubes. Moments about
// one bush give the force at the other: with F square to the tubes, M its moment about the mouth and b the overlap,
// P_end b = M and P_mouth + P_end = F.
func (st *Solver[T]) bearSlides(sd *Placed[T]) {
	for i := range st.path.Slides {
		s := &st.path.Slides[i]
		on := st.Pins[s.Joint]
		mouth, end := sd.Places[s.Mouth], sd.Places[s.Through[1]]
		line := end.Minus(mouth)
		b := &st.Bushes[i]
		b.square = line.Quarter().Times(plane.Inverse(plane.Sqrt(line.Dot(line))))
		b.AtEnd = on.About(mouth) * plane.Inverse(line.Cross(b.square))
		b.AtMouth = on.Force.Dot(b.square) - b.AtEnd
		st.bear(s.MouthNodes, b.square.Times(b.AtMouth), mouth)
		st.bear(s.EndNodes, b.square.Times(b.AtEnd), end)
		st.Pins[s.Joint] = mechanism.Load[T]{Force: b.square.Times(b.larger())}
	}
}

// bear applies the force of a bush on the sliding body, and its opposite on the guide.
func (st *Solver[T]) bear(nodes [2]int, force, at plane.Vec[T]) {
	var l mechanism.Load[T]
	l.Push(force, at)
	st.addAtNode(nodes[1], l)
	st.addAtNode(nodes[0], turned(l))
}
