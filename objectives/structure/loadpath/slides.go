package loadpath

import (
	"slices"

	"forkfront/kinematics/mechanism"
)

// Slide is how loads run through the tubes of a slide: two bushes, at the mouth of the outer tube and at the end of the
// inner one, pass a force square to the tubes each. Both are nodes on either body, and their places on the other tube move with
// the travel, so each tube is two members there.
type Slide struct {
	mechanism.Slide
	MouthNodes, EndNodes [2]int // nodes on the guide and on the sliding body
	Inner, Outer         [2]int // members
	Leads                int    // member from the sliding body's other tubes to the foot of the outer tube
}

// splitTubes lists the members of a mechanism, those of slides in two parts each, and of each which of the mechanism's
// tubes it is part of.
func splitTubes(m *mechanism.Mechanism) (members []mechanism.Member, part []int) {
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
		members = append(members, mechanism.Member{Body: mb.Body, From: mb.From, To: at}, mechanism.Member{Body: mb.Body, From: at, To: mb.To})
		part = append(part, t, t)
	}
	return members, part
}

// Continues tells whether a member continues the tube of the one before it.
func (p *Path) Continues(member int) bool {
	return member > 0 && p.Part[member] == p.Part[member-1]
}

// findSlides finds the nodes and members of all slides.
func (p *Path) findSlides() {
	for _, s := range p.Mechanism.Slides() {
		k := Slide{
			Slide:      s,
			MouthNodes: [2]int{p.Node(s.Guide, s.Mouth), p.Node(s.Slider, s.Mouth)},
			EndNodes:   [2]int{p.Node(s.Guide, s.Through[1]), p.Node(s.Slider, s.Through[1])},
		}
		first := func(is func(mb mechanism.Member) bool) int { return slices.IndexFunc(p.Members, is) }
		k.Inner[0] = first(func(mb mechanism.Member) bool { return mb.Body == s.Guide && mb.To == s.Mouth })
		k.Outer[0] = first(func(mb mechanism.Member) bool { return mb.Body == s.Slider && mb.From == s.Foot })
		k.Inner[1], k.Outer[1] = k.Inner[0]+1, k.Outer[0]+1
		k.Leads = first(func(mb mechanism.Member) bool { return mb.Body == s.Slider && mb.To == s.Foot })
		p.Slides = append(p.Slides, k)
		p.Sliding = append(p.Sliding, k.Inner[0], k.Inner[1], k.Outer[0], k.Outer[1])
		p.SideNodes[s.Joint] = [2]int{k.MouthNodes[0], k.EndNodes[1]}
	}
}

// SlideOf finds the slide that is a joint, or nil.
func (p *Path) SlideOf(joint int) *Slide {
	for i := range p.Slides {
		if p.Slides[i].Joint == joint {
			return &p.Slides[i]
		}
	}
	return nil
}

// across is the other body of a slide's node, if it is one: the nodes that both bushes have there.
func (p *Path) acrossSlide(node int) []int {
	for i := range p.Slides {
		s := &p.Slides[i]
		for side := range 2 {
			if node == s.MouthNodes[side] || node == s.EndNodes[side] {
				return []int{s.MouthNodes[1-side], s.EndNodes[1-side]}
			}
		}
	}
	return nil
}
