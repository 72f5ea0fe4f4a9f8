package mechanism

import (
	"fmt"
	"strings"
)

// Structure describes the mechanism: its degrees of freedom, its bodies with what they carry, and its
// joints, one per line.
func (m *Mechanism) Structure() []string {
	lines := []string{fmt.Sprintf("1 degree of freedom: 3 × %d moving bodies − 2 × %d joints", len(m.Bodies)-1, len(m.joints))}
	for b, name := range m.Bodies {
		if roles := m.roles(b); roles != "" {
			name += ": " + roles
		}
		lines = append(lines, "body "+name)
	}
	for _, j := range m.joints {
		a, b := m.Bodies[j.A], m.Bodies[j.B]
		if j.Slides() {
			lines = append(lines, fmt.Sprintf("slide %s: %s along %s–%s of %s", j.Name, b, m.Points[j.Through[0]], m.Points[j.Through[1]], a))
			continue
		}
		lines = append(lines, fmt.Sprintf("pivot %s: %s and %s", j.Name, a, b))
	}
	if lower, upper, ok := m.Balls(); ok {
		lines = append(lines, fmt.Sprintf("steering axis through %s and %s", m.Points[lower], m.Points[upper]))
	}
	return lines
}

// roles lists what a body is beyond a link.
func (m *Mechanism) roles(body int) string {
	var all []string
	add := func(does bool, what string) {
		if does {
			all = append(all, what)
		}
	}
	_, _, balls := m.Balls()
	add(body == m.ground, "ground")
	add(body == m.wheel, "axle")
	add(body == m.brake, "caliper")
	add(m.HasShock() && (body == m.shock[0].Body || body == m.shock[1].Body), "shock")
	add(balls && m.steered[body], "steers")
	return strings.Join(all, ", ")
}

// Solution describes how the motion is solved, one step per line.
func (m *Mechanism) Solution() []string {
	lines := make([]string, len(m.steps))
	for i := range m.steps {
		lines[i] = m.described(&m.steps[i])
	}
	return lines
}

func (m *Mechanism) described(s *Step) string {
	body := func(i int) string { return m.Bodies[s.Body[i]] }
	switch s.Kind {
	case TurnDrive:
		return fmt.Sprintf("driver: %s, turning about %s", body(0), m.Points[s.On[0].Point])
	case SlideDrive:
		return fmt.Sprintf("driver: %s, sliding along %s–%s", body(0), m.Points[s.Through[0]], m.Points[s.Through[1]])
	case Dyad:
		return fmt.Sprintf("dyad: %s and %s, joined at %s and pinned at %s and %s", body(0), body(1),
			m.Points[s.Tip], m.Points[s.On[0].Point], m.Points[s.On[1].Point])
	case SlideDyad:
		return fmt.Sprintf("dyad: %s, with a slide at %s", m.NamesOf(s), m.Points[s.Group.Loops[0].Point])
	}
	return fmt.Sprintf("group: %s, solved together by Newton's method on the %d pins that close their loops", m.NamesOf(s), len(s.Group.Loops))
}

// NamesOf lists the bodies of a step, as in "arm, link and rocker".
func (m *Mechanism) NamesOf(s *Step) string {
	var text strings.Builder
	all := s.bodies()
	for i, b := range all {
		switch {
		case i == 0:
		case i == len(all)-1:
			text.WriteString(" and ")
		default:
			text.WriteString(", ")
		}
		text.WriteString(m.Bodies[b])
	}
	return text.String()
}
