package structure

import (
	"slices"

	"forkfront/kinematics"
	"forkfront/kinematics/mechanism"
	"forkfront/kinematics/plane"
	"forkfront/objectives/structure/loadpath"
)

// bushes are the forces of a slide's two bushes on the sliding body, in N, along square: at the mouth of the outer tube,
// and at the end of the inner one.
type bushes[T kinematics.Scalar] struct {
	atMouth, atEnd T
	square         plane.Vec[T] // unit vector square to the tubes
}

// larger is the force of the bush that bears more.
func (b *bushes[T]) larger() T {
	if kinematics.Real(kinematics.Abs(b.atMouth)) > kinematics.Real(kinematics.Abs(b.atEnd)) {
		return b.atMouth
	}
	return b.atEnd
}

// sum is what both bushes press with, regardless of direction.
func (b *bushes[T]) sum() T { return kinematics.Abs(b.atMouth) + kinematics.Abs(b.atEnd) }

// bearSlides finds the forces of the bushes that bear what slides pass on, and applies them to the tubes. Moments about
// one bush give the force at the other: with F square to the tubes, M its moment about the mouth and b the overlap,
// P_end b = M and P_mouth + P_end = F.
func (st *statics[T]) bearSlides(sd *placed[T]) {
	for i := range st.path.Slides {
		s := &st.path.Slides[i]
		on := st.pins[s.Joint]
		mouth, end := sd.places[s.Mouth], sd.places[s.Through[1]]
		line := end.Minus(mouth)
		b := &st.bushes[i]
		b.square = line.Quarter().Times(plane.Inverse(plane.Sqrt(line.Dot(line))))
		b.atEnd = on.About(mouth) * plane.Inverse(line.Cross(b.square))
		b.atMouth = on.Force.Dot(b.square) - b.atEnd
		st.bear(s.MouthNodes, b.square.Times(b.atMouth), mouth)
		st.bear(s.EndNodes, b.square.Times(b.atEnd), end)
		st.pins[s.Joint] = mechanism.Load[T]{Force: b.square.Times(b.larger())}
	}
}

// bear applies the force of a bush on the sliding body, and its opposite on the guide.
func (st *statics[T]) bear(nodes [2]int, force, at plane.Vec[T]) {
	var l mechanism.Load[T]
	l.Push(force, at)
	st.addAtNode(nodes[1], l)
	st.addAtNode(nodes[0], turned(l))
}

// straighten finds the directions of members that slide, whose lengths change with the travel.
func (sd *placed[T]) straighten(p *loadpath.Path) {
	for _, i := range p.Sliding {
		mb := &p.Members[i]
		line := sd.places[mb.To].Minus(sd.places[mb.From])
		sd.along[i] = line.Times(plane.Inverse(plane.Sqrt(line.Dot(line))))
	}
}

// leg is the length in mm of the straight leg that a member is part of, if it slides: from where the inner tube starts to
// where the outer one is held.
func (sd *placed[T]) leg(p *loadpath.Path, member int) (length T, slides bool) {
	for i := range p.Slides {
		s := &p.Slides[i]
		if member == s.Leads || slices.Contains(s.Inner[:], member) || slices.Contains(s.Outer[:], member) {
			return apart(sd.places[s.Through[0]], sd.places[s.Start]), true
		}
	}
	return 0, false
}

// apart is the distance of two places, in mm.
func apart[T kinematics.Scalar](a, b plane.Vec[T]) T {
	line := b.Minus(a)
	return plane.Sqrt(line.Dot(line))
}
