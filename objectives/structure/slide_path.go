package structure

import (
	"slices"

	"forkfront/kinematics/mechanism"
)

// slidePath is how loads run through the tubes of a slide: two bushes, at the mouth of the outer tube and at the end of the
// inner one, pass a force square to the tubes each. Both are nodes on either body, and their places on the other tube move with
// the travel, so each tube is two members there.
type slidePath struct {
	mechanism.Slide
	mouth, end   [2]int // nodes on the guide and on the sliding body
	inner, outer [2]int // members
	leads        int    // member from the sliding body's other tubes to the foot of the outer tube
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

// continues tells whether a member continues the tube of the one before it.
func (p *loadPath) continues(member int) bool {
	return member > 0 && p.part[member] == p.part[member-1]
}

// findSlides finds the nodes and members of all slides.
func (p *loadPath) findSlides() {
	for _, s := range p.m.Slides() {
		k := slidePath{
			Slide: s,
			mouth: [2]int{p.node(s.Guide, s.Mouth), p.node(s.Slider, s.Mouth)},
			end:   [2]int{p.node(s.Guide, s.Through[1]), p.node(s.Slider, s.Through[1])},
		}
		first := func(is func(mb mechanism.Member) bool) int { return slices.IndexFunc(p.members, is) }
		k.inner[0] = first(func(mb mechanism.Member) bool { return mb.Body == s.Guide && mb.To == s.Mouth })
		k.outer[0] = first(func(mb mechanism.Member) bool { return mb.Body == s.Slider && mb.From == s.Foot })
		k.inner[1], k.outer[1] = k.inner[0]+1, k.outer[0]+1
		k.leads = first(func(mb mechanism.Member) bool { return mb.Body == s.Slider && mb.To == s.Foot })
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
