package mechanism

import (
	"cmp"
	"slices"
	"strings"

	"forkfront/kinematics/scheme"
)

type stepKind int

const (
	TurnDrive  stepKind = iota // a body pinned to the ground, turned
	SlideDrive                 // a body that slides on the ground, pushed
	Dyad                       // two bodies pinned together, each pinned to a known one
	SlideDyad                  // two bodies with a slide among their three joints, in closed form
	Together                   // a group of bodies that no order of dyads solves, by Newton
)

// Step solves some bodies from those known before it.
type Step struct {
	Kind    stepKind
	Body    [2]int       // of a driver or a dyad; -1: none
	On      [2]BodyPoint // known body and the pivot on it, for each body of a dyad
	Tip     int          // the pivot between the two bodies of a dyad
	Through [2]int       // line of a driving slide
	Group   *Group       // of a slide dyad or a group
}

// bodies lists what the step places.
func (s *Step) bodies() []int {
	if s.Group == nil {
		return slices.DeleteFunc(slices.Clone(s.Body[:]), func(b int) bool { return b < 0 })
	}
	var all []int
	for i := range s.Group.Links {
		all = append(all, s.Group.Links[i].Body)
	}
	slices.Sort(all)
	return all
}

// plan is a way to solve a mechanism: its steps, and the joints that they use, the driver's first.
type plan struct {
	steps  []Step
	joints []Joint
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
	slices.SortStableFunc(m.joints, func(x, y Joint) int {
		return cmp.Or(strings.Compare(x.Name, y.Name), cmp.Compare(x.A, y.A), cmp.Compare(x.B, y.B))
	})
	m.number()
	if !m.axleMoves(first.joints) {
		c.fault("axle", "the axle does not move, wherever the pivots are")
	}
}

// number tells the groups which joints they use.
func (m *Mechanism) number() {
	for i := range m.steps {
		g := m.steps[i].Group
		if g == nil {
			continue
		}
		for k := range g.Links {
			g.Links[k].joint = m.jointOf(g.Links[k].Body, g.Links[k].Parent, g.Links[k].Point)
		}
		for k := range g.Loops {
			g.Loops[k].joint = m.jointOf(g.Loops[k].A, g.Loops[k].B, g.Loops[k].Point)
		}
	}
}

// burden is the size of the largest group that Newton has to solve; 0 when all is in closed form.
func burden(steps []Step) int {
	most := 0
	for i := range steps {
		if steps[i].Kind == Together {
			most = max(most, len(steps[i].Group.Links))
		}
	}
	return most
}

// drivers lists the joints of bodies that are joined to the ground, by name and then by body.
func (m *Mechanism) drivers() []Joint {
	known := make([]bool, len(m.Bodies))
	known[m.ground] = true
	return slices.DeleteFunc(m.joined(known, nil), func(j Joint) bool { return j.A != m.ground && j.B != m.ground })
}

// drive is the first step, of the body that a joint holds to the ground.
func (m *Mechanism) drive(j Joint) Step {
	s := Step{Kind: TurnDrive, Body: [2]int{j.A + j.B - m.ground, -1}, On: [2]BodyPoint{{m.ground, j.Point}, {-1, -1}}}
	if j.Slides() {
		s.Kind, s.Through, s.On[0].Point = SlideDrive, j.Through, j.Through[0]
	}
	return s
}

// orderFrom tries a driver.
func (m *Mechanism) orderFrom(first Joint) (*plan, bool) {
	known := make([]bool, len(m.Bodies))
	known[m.ground] = true
	free := len(m.joined(known, nil))
	p := &plan{[]Step{m.drive(first)}, []Joint{first}}
	known[p.steps[0].Body[0]] = true
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
func within(set []int, joints []Joint, known []bool) []Joint {
	ours := func(b int) bool { return known[b] || slices.Contains(set, b) }
	return slices.DeleteFunc(slices.Clone(joints), func(j Joint) bool { return !ours(j.A) || !ours(j.B) })
}

// solve finds how a set of bodies is solved that depends only on known ones.
func (m *Mechanism) solve(set []int, of []Joint, known []bool) (Step, bool) {
	if len(set) == 2 && !slices.ContainsFunc(of, Joint.Slides) {
		return pinned(of, known)
	}
	g, ok := newGroup(set, of, known)
	if !ok {
		return Step{}, false
	}
	s := Step{Kind: Together, Body: [2]int{-1, -1}, Group: g}
	if len(set) == 2 && g.Form != Iterated {
		s.Kind = SlideDyad
	}
	return s, true
}

// pinned is the dyad of two bodies pinned together, each pinned to a known one.
func pinned(joints []Joint, known []bool) (Step, bool) {
	s := Step{Kind: Dyad}
	for _, j := range joints {
		if !known[j.A] && !known[j.B] {
			s.Body, s.Tip = [2]int{j.A, j.B}, j.Point
		}
	}
	held := 0
	for i, b := range s.Body {
		for _, j := range joints {
			if other := j.A + j.B - b; (j.A == b || j.B == b) && known[other] && j.Point != s.Tip {
				s.On[i] = BodyPoint{other, j.Point}
				held++
				break
			}
		}
	}
	return s, len(joints) == 3 && held == 2
}

// anchors gives each body the point by which its steps place it.
func anchors(m *Mechanism, steps []Step) []int {
	anchor := make([]int, len(m.Bodies))
	anchor[m.ground] = index(m.Points, scheme.PointRoot)
	for _, s := range steps {
		if s.Group != nil {
			for i := range s.Group.Links {
				anchor[s.Group.Links[i].Body] = s.Group.Links[i].Anchor()
			}
			continue
		}
		for i, b := range s.Body {
			if b >= 0 {
				anchor[b] = s.On[i].Point
			}
		}
	}
	return anchor
}
