package kinematics

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
	return m.joints[i].a, m.joints[i].b, m.joints[i].point
}

// bearings finds the joints that each step solves.
func (c *compiler) bearings() {
	m := c.m
	m.holds = make([]stepJoints, len(m.steps))
	for i := range m.steps {
		s := &m.steps[i]
		for k, b := range s.body {
			if b >= 0 {
				m.holds[i].on[k] = m.jointOf(b, s.on[k].body, s.on[k].point)
			}
		}
		if s.kind == dyad {
			m.holds[i].tip = m.jointOf(s.body[0], s.body[1], s.tip)
		}
	}
}

// jointOf finds the joint of two bodies at a point; a slide has none of its own.
func (m *Mechanism) jointOf(a, b, point int) int {
	return slices.IndexFunc(m.joints, func(j joint) bool {
		pair := j.a == a && j.b == b || j.a == b && j.b == a
		return pair && (j.point == point || j.slides())
	})
}
