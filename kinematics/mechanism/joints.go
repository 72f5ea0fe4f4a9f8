package mechanism

import "slices"

// stepJoints tells which joints a step solves: from the held pivots to its bodies, and the tip's.
type stepJoints struct {
	on  [2]int
	tip int
}

// Joints is the number of joints: pins between two bodies each, and slides.
func (m *Mechanism) Joints() int { return len(m.joints) }

// Joint tells which bodies a joint holds together, and at which point; −1 for a slide.
func (m *Mechanism) Joint(i int) (a, b, point int) {
	return m.joints[i].A, m.joints[i].B, m.joints[i].Point
}

// bearings finds the joints that each step solves.
func (c *compiler) bearings() {
	m := c.m
	m.holds = make([]stepJoints, len(m.steps))
	for i := range m.steps {
		s := &m.steps[i]
		for k, b := range s.Body {
			if b >= 0 {
				m.holds[i].on[k] = m.jointOf(b, s.On[k].Body, s.On[k].Point)
			}
		}
		if s.Kind == Dyad {
			m.holds[i].tip = m.jointOf(s.Body[0], s.Body[1], s.Tip)
		}
	}
}

// jointOf finds the joint of two bodies at a point; a slide has none of its own.
func (m *Mechanism) jointOf(a, b, point int) int {
	return slices.IndexFunc(m.joints, func(j Joint) bool {
		pair := j.A == a && j.B == b || j.A == b && j.B == a
		return pair && (j.Point == point || j.Slides())
	})
}
