package mechanism

import (
	"fmt"
	"slices"
)

// Slide is a joint in which one body slides along another, as two tubes of which one runs in the other. The guide has the
// inner tube, a member that is straight from the first point of the slide to the second, where it ends inside the other.
// Two points of the sliding body are not in a file: the mouth of the outer tube and its foot at the other end. Their
// numbers follow those of the mechanism's points; ExtendLayout places them.
type Slide struct {
	Joint, Guide, Slider int
	Through              [2]int // of the guide
	Start                int    // point of the sliding body from which a member leads to the foot
	Mouth, Foot          int
}

// Slides lists the slides in the order of the joints.
func (m *Mechanism) Slides() []Slide { return m.slides }

// Tubes lists what tubes a mechanism is made of: its members, and of each sliding body the member to the foot of its
// sliding tube and that tube from foot to mouth. Without slides they are the members.
func (m *Mechanism) Tubes() []Member { return m.tubes }

// PointName names a point, those of sliding tubes included.
func (m *Mechanism) PointName(point int) string {
	if point < len(m.Points) {
		return m.Points[point]
	}
	s := &m.slides[(point-len(m.Points))/2]
	return m.joints[s.Joint].Name + [...]string{" mouth", " foot"}[(point-len(m.Points))%2]
}

// telescopes lists the slides and the tubes.
func (c *compiler) telescopes() {
	m := c.m
	m.tubes = m.members
	for i, j := range m.joints {
		if !j.Slides() {
			continue
		}
		n := len(m.Points) + 2*len(m.slides)
		s := Slide{Joint: i, Guide: j.A, Slider: j.B, Through: j.Through, Start: c.start(j.B), Mouth: n, Foot: n + 1}
		m.slides, m.extra = append(m.slides, s), append(m.extra, j.B, j.B)
		c.checkSlide(&s, j.Name)
	}
	for i := range m.slides {
		s := &m.slides[i]
		at := slices.IndexFunc(m.tubes, func(mb Member) bool { return mb.Body > s.Slider })
		if at < 0 {
			at = len(m.tubes)
		}
		m.tubes = slices.Insert(slices.Clone(m.tubes), at, Member{s.Slider, s.Start, s.Foot}, Member{s.Slider, s.Foot, s.Mouth})
	}
}

// start is the point of a sliding body from which its tube is reached: the one where most of its members meet; of several
// the first by name that is not the axle. A body without members has it where it is held.
func (c *compiler) start(body int) int {
	m, best, most := c.m, -1, -1
	for p, on := range m.carried {
		if !slices.Contains(on, body) {
			continue
		}
		meet := 0
		for _, mb := range m.members {
			if mb.Body == body && (mb.From == p || mb.To == p) {
				meet++
			}
		}
		if meet > most || meet == most && best == m.axle {
			best, most = p, meet
		}
	}
	return best
}

// checkSlide notes why the tubes of a slide cannot be sized.
func (c *compiler) checkSlide(s *Slide, name string) {
	m := c.m
	switch {
	case m.unsized != "":
	case !slices.ContainsFunc(m.members, func(mb Member) bool {
		return mb.Body == s.Guide && (mb.From == s.Through[0] && mb.To == s.Through[1] || mb.From == s.Through[1] && mb.To == s.Through[0])
	}):
		m.unsized = fmt.Sprintf("no member of %q runs from %q to %q, between which the tube of slide %q is straight",
			m.Bodies[s.Guide], m.Points[s.Through[0]], m.Points[s.Through[1]], name)
	case s.Start < 0:
		m.unsized = fmt.Sprintf("body %q has no point that the tube of slide %q could lead to", m.Bodies[s.Slider], name)
	}
}

// SlideName is the name of a slide.
func (m *Mechanism) SlideName(s *Slide) string { return m.joints[s.Joint].Name }
