package structure

import (
	"math"
	"slices"

	"forkfront/kinematics"
	"forkfront/kinematics/plane"
)

// slidePath is how loads run through the tubes of a slide: two bushes, at the mouth of the outer tube and at the end of the
// inner one, pass a force square to the tubes each. Both are nodes on either body, and their places on the other tube move with
// the travel, so each tube is two members there.
type slidePath struct {
	kinematics.Slide
	mouth, end   [2]int // nodes on the guide and on the sliding body
	inner, outer [2]int // members
	leads        int    // member from the sliding body's other tubes to the foot of the outer tube
}

// splitTubes lists the members of a mechanism, those of slides in two parts each, and of each which of the mechanism's
// tubes it is part of.
func splitTubes(m *kinematics.Mechanism) (members []kinematics.Member, part []int) {
	for t, mb := range m.Tubes() {
		at := -1
		for i := range m.Slides() {
			switch s := &m.Slides()[i]; {
			case mb.Body == s.Guide && slices.Contains(s.Through[:], mb.From) && slices.Contains(s.Through[:], mb.To):
				at = s.Mouth
			case mb.Body == s.Slider && mb.From == s.Foot:
				at = s.Through[1]
			}
		}
		if at < 0 {
			members, part = append(members, mb), append(part, t)
			continue
		}
		members = append(members, kinematics.Member{Body: mb.Body, From: mb.From, To: at}, kinematics.Member{Body: mb.Body, From: at, To: mb.To})
		part = append(part, t, t)
	}
	return members, part
}

// findSlides finds the nodes and members of all slides.
func (p *loadPath) findSlides() {
	for _, s := range p.m.Slides() {
		k := slidePath{
			Slide: s,
			mouth: [2]int{p.node(s.Guide, s.Mouth), p.node(s.Slider, s.Mouth)},
			end:   [2]int{p.node(s.Guide, s.Through[1]), p.node(s.Slider, s.Through[1])},
		}
		first := func(is func(mb kinematics.Member) bool) int { return slices.IndexFunc(p.members, is) }
		k.inner[0] = first(func(mb kinematics.Member) bool { return mb.Body == s.Guide && mb.To == s.Mouth })
		k.outer[0] = first(func(mb kinematics.Member) bool { return mb.Body == s.Slider && mb.From == s.Foot })
		k.inner[1], k.outer[1] = k.inner[0]+1, k.outer[0]+1
		k.leads = first(func(mb kinematics.Member) bool { return mb.Body == s.Slider && mb.To == s.Foot })
		p.slides = append(p.slides, k)
		p.sliding = append(p.sliding, k.inner[0], k.inner[1], k.outer[0], k.outer[1])
		p.sideNodes[s.Joint] = [2]int{k.mouth[0], k.end[1]}
	}
}

// slideOf finds the slide that is a joint, or nil.
func (p *loadPath) slideOf(joint int) *slidePath {
	for i := range p.slides {
		if p.slides[i].Joint == joint {
			return &p.slides[i]
		}
	}
	return nil
}

// across is the other body of a slide's node, if it is one: the nodes that both bushes have there.
func (p *loadPath) acrossSlide(node int) []int {
	for i := range p.slides {
		s := &p.slides[i]
		for side := range 2 {
			if node == s.mouth[side] || node == s.end[side] {
				return []int{s.mouth[1-side], s.end[1-side]}
			}
		}
	}
	return nil
}

// leg is the length in mm of the straight leg that a member is part of, if it slides: from where the inner tube starts to
// where the outer one is held.
func (sd *placed[T]) leg(p *loadPath, member int) (length T, slides bool) {
	for i := range p.slides {
		s := &p.slides[i]
		if member == s.leads || slices.Contains(s.inner[:], member) || slices.Contains(s.outer[:], member) {
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

// straighten finds the directions of members that slide, whose lengths change with the travel.
func (sd *placed[T]) straighten(p *loadPath) {
	for _, i := range p.sliding {
		mb := &p.members[i]
		line := sd.places[mb.To].Minus(sd.places[mb.From])
		sd.along[i] = line.Times(plane.Inverse(plane.Sqrt(line.Dot(line))))
	}
}

// bushes are the forces of a slide's two bushes on the sliding body, in N, along square: at the mouth of the outer tube,
// and at the end of the inner one.
type bushes[T kinematics.Scalar] struct {
	atMouth, atEnd T
	square         plane.Vec[T] // unit vector square to the tubes
}

// bearSlides finds the forces of the bushes that bear what slides pass on, and applies them to the tubes. Moments about
// one bush give the force at the other: with F square to the tubes, M its moment about the mouth and b the overlap,
// P_end b = M and P_mouth + P_end = F.
func (st *statics[T]) bearSlides(sd *placed[T]) {
	for i := range st.path.slides {
		s := &st.path.slides[i]
		on := st.pins[s.Joint]
		mouth, end := sd.places[s.Mouth], sd.places[s.Through[1]]
		line := end.Minus(mouth)
		b := &st.bushes[i]
		b.square = line.Quarter().Times(plane.Inverse(plane.Sqrt(line.Dot(line))))
		b.atEnd = on.About(mouth) * plane.Inverse(line.Cross(b.square))
		b.atMouth = on.Force.Dot(b.square) - b.atEnd
		st.bear(s.mouth, b.square.Times(b.atMouth), mouth)
		st.bear(s.end, b.square.Times(b.atEnd), end)
		st.pins[s.Joint] = kinematics.Load[T]{Force: b.square.Times(b.larger())}
	}
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

// bear applies the force of a bush on the sliding body, and its opposite on the guide.
func (st *statics[T]) bear(nodes [2]int, force, at plane.Vec[T]) {
	var l kinematics.Load[T]
	l.Push(force, at)
	st.addAtNode(nodes[1], l)
	st.addAtNode(nodes[0], turned(l))
}

// bushRate is the stiffness of a bush in the space frame, in N/mm: it stands for rigid, far above that of tubes, and low
// enough for rounding.
const bushRate = 1e8

// shareRate is the factor by which bushes are softer where the torque of the brake is shared: less rounding, and still
// stiffer than tubes.
const shareRate = 100

// bushes adds those of slides on one side: springs square to the tubes, in the plane; they are tied across it.
func (o *antisymmetric[T]) bushes(z *Sized[T], sd *placed[T]) {
	h := z.antisymmetric
	for i, pair := range h.bushes {
		s := &z.path.slides[i/2]
		line := sd.places[s.Through[1]].Minus(sd.places[s.Mouth])
		square := line.Quarter().Times(plane.Inverse(plane.Sqrt(line.Dot(line))))
		parts := [4]T{-square.Along, -square.Ahead, square.Along, square.Ahead}
		for k, p := range parts {
			for n, q := range parts[:k+1] {
				row, column := h.number[pair[k/2]][along+k%2], h.number[pair[n/2]][along+n%2]
				if row >= 0 && column >= 0 {
					o.matrix.Entry[h.pattern.At(row, column)] += p * q * kinematics.Lift[T](bushRate/shareRate)
				}
			}
		}
	}
}

// bush is one of a slide in a space frame: its joint, and the springs that stand for it.
type bush struct {
	joint   int
	springs [2]int
}

// slides adds the bushes of slides on both sides.
func (f *spaceFrame) slides() {
	z := f.z
	for i := range z.path.slides {
		s := &z.path.slides[i]
		line := f.places[s.Through[1]].Minus(f.places[s.Mouth])
		square := line.Quarter().Times(1 / math.Hypot(line.Along, line.Ahead))
		for side := range f.nodes {
			for _, on := range [2][2]int{s.mouth, s.end} {
				a, b := f.nodes[side][on[0]], f.nodes[side][on[1]]
				if a < 0 || side == 1 && a == f.nodes[0][on[0]] { // one tube in the middle
					continue
				}
				f.bushes = append(f.bushes, bush{s.Joint, [2]int{f.Springs(), f.Springs() + 1}})
				f.Spring(a, b, [3]float64{square.Along, square.Ahead, 0}, bushRate)
				f.Spring(a, b, [3]float64{2: 1}, bushRate)
			}
		}
	}
}
