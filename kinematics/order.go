package kinematics

import (
	"cmp"
	"slices"
	"strings"

	"forkfront/kinematics/scheme"
)

type stepKind int

const (
	turnDrive  stepKind = iota // a body pinned to the ground, turned
	slideDrive                 // a body that slides on the ground, pushed
	dyad                       // two bodies pinned together, each pinned to a known one
	slideDyad                  // two bodies with a slide among their three joints, in closed form
	together                   // a group of bodies that no order of dyads solves, by Newton
)

// step solves some bodies from those known before it.
type step struct {
	kind    stepKind
	body    [2]int       // of a driver or a dyad; -1: none
	on      [2]bodyPoint // known body and the pivot on it, for each body of a dyad
	tip     int          // the pivot between the two bodies of a dyad
	through [2]int       // line of a driving slide
	group   *group       // of a slide dyad or a group
}

// bodies lists what the step places.
func (s *step) bodies() []int {
	if s.group == nil {
		return slices.DeleteFunc(slices.Clone(s.body[:]), func(b int) bool { return b < 0 })
	}
	var all []int
	for i := range s.group.links {
		all = append(all, s.group.links[i].body)
	}
	slices.Sort(all)
	return all
}

// plan is a way to solve a mechanism: its steps, and the joints that they use, the driver's first.
type plan struct {
	steps  []step
	joints []joint
}

// order looks for the drivers from which all other bodies follow, by dyads if any driver gives only
// these, else by the smallest groups.
func (c *compiler) order() {
	m := c.m
	var best []*plan
	for _, first := range m.drivers() {
		p, ok := m.orderFrom(first)
		if !ok || !m.determined(p.joints) {
			continue
		}
		if len(best) > 0 && burden(p.steps) < burden(best[0].steps) {
			best = best[:0]
		}
		if len(best) == 0 || burden(p.steps) == burden(best[0].steps) {
			best = append(best, p)
		}
	}
	if len(best) == 0 {
		c.fault("pivots", "no body that is joined to %q can drive the others: part of the mechanism is rigid and another part has more than one degree of freedom", m.Bodies[m.ground])
		return
	}
	first := m.transmission(best)[0]
	m.steps, m.anchor, m.joints = first.steps, anchors(m, first.steps), slices.Clone(first.joints)
	slices.SortStableFunc(m.joints, func(x, y joint) int {
		return cmp.Or(strings.Compare(x.name, y.name), cmp.Compare(x.a, y.a), cmp.Compare(x.b, y.b))
	})
	m.number()
	m.loops = newVectorLoops(m)
	if !m.axleMoves(first.joints) {
		c.fault("axle", "the axle does not move, wherever the pivots are")
	}
}

// number tells the groups which joints they use.
func (m *Mechanism) number() {
	for i := range m.steps {
		g := m.steps[i].group
		if g == nil {
			continue
		}
		for k := range g.links {
			g.links[k].joint = m.jointOf(g.links[k].body, g.links[k].parent, g.links[k].point)
		}
		for k := range g.loops {
			g.loops[k].joint = m.jointOf(g.loops[k].a, g.loops[k].b, g.loops[k].point)
		}
	}
}

// burden is the size of the largest group that Newton has to solve; 0 when all is in closed form.
func burden(steps []step) int {
	most := 0
	for i := range steps {
		if steps[i].kind == together {
			most = max(most, len(steps[i].group.links))
		}
	}
	return most
}

// drivers lists the joints of bodies that are joined to the ground, by name and then by body.
func (m *Mechanism) drivers() []joint {
	known := make([]bool, len(m.Bodies))
	known[m.ground] = true
	return slices.DeleteFunc(m.joined(known, nil), func(j joint) bool { return j.a != m.ground && j.b != m.ground })
}

// drive is the first step, of the body that a joint holds to the ground.
func (m *Mechanism) drive(j joint) step {
	s := step{kind: turnDrive, body: [2]int{j.a + j.b - m.ground, -1}, on: [2]bodyPoint{{m.ground, j.point}, {-1, -1}}}
	if j.slides() {
		s.kind, s.through, s.on[0].point = slideDrive, j.through, j.through[0]
	}
	return s
}

// orderFrom tries a driver.
func (m *Mechanism) orderFrom(first joint) (*plan, bool) {
	known := make([]bool, len(m.Bodies))
	known[m.ground] = true
	free := len(m.joined(known, nil))
	p := &plan{[]step{m.drive(first)}, []joint{first}}
	known[p.steps[0].body[0]] = true
	if len(m.joined(known, nil)) != free-1 {
		return nil, false // a second joint holds the driver to the ground
	}
	for slices.Contains(known, false) {
		set, joints := m.next(known)
		if set == nil {
			return nil, false
		}
		of := within(set, joints, known)
		s, ok := m.solve(set, of, known)
		if !ok {
			return nil, false
		}
		p.steps, p.joints = append(p.steps, s), append(p.joints, of...)
		for _, b := range set {
			known[b] = true
		}
	}
	return p, true
}

// within are the joints that a set of bodies has with each other and with known bodies.
func within(set []int, joints []joint, known []bool) []joint {
	ours := func(b int) bool { return known[b] || slices.Contains(set, b) }
	return slices.DeleteFunc(slices.Clone(joints), func(j joint) bool { return !ours(j.a) || !ours(j.b) })
}

// solve finds how a set of bodies is solved that depends only on known ones.
func (m *Mechanism) solve(set []int, of []joint, known []bool) (step, bool) {
	if len(set) == 2 && !slices.ContainsFunc(of, joint.slides) {
		return pinned(of, known)
	}
	g, ok := newGroup(set, of, known)
	if !ok {
		return step{}, false
	}
	s := step{kind: together, body: [2]int{-1, -1}, group: g}
	if len(set) == 2 && g.form != iterated {
		s.kind = slideDyad
	}
	return s, true
}

// pinned is the dyad of two bodies pinned together, each pinned to a known one.
func pinned(joints []joint, known []bool) (step, bool) {
	s := step{kind: dyad}
	for _, j := range joints {
		if !known[j.a] && !known[j.b] {
			s.body, s.tip = [2]int{j.a, j.b}, j.point
		}
	}
	held := 0
	for i, b := range s.body {
		for _, j := range joints {
			if other := j.a + j.b - b; (j.a == b || j.b == b) && known[other] && j.point != s.tip {
				s.on[i] = bodyPoint{other, j.point}
				held++
				break
			}
		}
	}
	return s, len(joints) == 3 && held == 2
}

// anchors gives each body the point by which its steps place it.
func anchors(m *Mechanism, steps []step) []int {
	anchor := make([]int, len(m.Bodies))
	anchor[m.ground] = index(m.Points, scheme.PointRoot)
	for _, s := range steps {
		if s.group != nil {
			for i := range s.group.links {
				anchor[s.group.links[i].body] = s.group.links[i].anchor()
			}
			continue
		}
		for i, b := range s.body {
			if b >= 0 {
				anchor[b] = s.on[i].point
			}
		}
	}
	return anchor
}
