package mechanism

import (
	"fmt"
	"slices"
	"strings"

	"forkfront/kinematics/scheme"
)

// compiler turns a spec into a mechanism and gathers what is wrong on the way.
type compiler struct {
	m      *Mechanism
	faults []scheme.Fault
}

func (c *compiler) fault(path, format string, args ...any) {
	c.faults = append(c.faults, scheme.Fault{Path: path, Text: fmt.Sprintf(format, args...)})
}

// body returns the number of a named body and complains when there is none.
func (c *compiler) body(path, name string) int {
	i := index(c.m.Bodies, name)
	if i < 0 {
		c.fault(path, "unknown body %q; the bodies are %s", name, strings.Join(c.m.Bodies, ", "))
	}
	return i
}

func (c *compiler) bodies() {
	s := &c.m.Spec
	c.m.Bodies = slices.Sorted(slices.Values(s.Bodies))
	if len(s.Bodies) < 2 {
		c.fault("bodies", "%d bodies; expected at least the ground and one that moves", len(s.Bodies))
	}
	for i := 1; i < len(c.m.Bodies); i++ {
		if c.m.Bodies[i] == c.m.Bodies[i-1] {
			c.fault("bodies", "body %q is listed twice", c.m.Bodies[i])
		}
	}
	c.m.ground = c.body("ground", s.Ground)
	names := []string{scheme.PointAxle, scheme.PointRoot}
	for _, p := range s.Pivots {
		names = append(names, p.Name)
	}
	for _, sl := range s.Slides {
		names = append(names, sl.Through[0], sl.Through[1])
	}
	if s.Shock != [2]string{} {
		names = append(names, scheme.PointShockUpper, scheme.PointShockLower)
	}
	c.m.Points = slices.Compact(slices.Sorted(slices.Values(names)))
	c.m.carried, c.m.pinned = make([][]int, len(c.m.Points)), make([][]int, len(c.m.Points))
}

// carry notes that a point lies on a body.
func (c *compiler) carry(point, body int) {
	if !slices.Contains(c.m.carried[point], body) {
		c.m.carried[point] = append(c.m.carried[point], body)
		slices.Sort(c.m.carried[point])
	}
}

func (c *compiler) pins() {
	seen := map[string]bool{}
	for _, p := range c.m.Spec.Pivots {
		path := "pivots." + p.Name
		switch p.Name {
		case scheme.PointRoot, scheme.PointShockUpper, scheme.PointShockLower:
			c.fault(path, "%q is a reserved point; give the pivot another name", p.Name)
		}
		if seen[p.Name] {
			c.fault(path, "pivot %q is listed twice", p.Name)
		}
		seen[p.Name] = true
		if len(p.Bodies) < 2 {
			c.fault(path, "a pivot joins two or more bodies; this one has %d", len(p.Bodies))
		}
		c.pin(path, p)
	}
}

// pin adds the joints of one pivot: the first body by name with each further one.
func (c *compiler) pin(path string, p scheme.PivotSpec) {
	point := index(c.m.Points, p.Name)
	var on []int
	for i, name := range p.Bodies {
		b := c.body(fmt.Sprintf("%s[%d]", path, i), name)
		if b < 0 {
			return
		}
		if slices.Contains(on, b) {
			c.fault(fmt.Sprintf("%s[%d]", path, i), "body %q is pinned to itself", name)
			return
		}
		on = append(on, b)
		c.carry(point, b)
	}
	c.m.pinned[point] = slices.Clone(on)
	slices.Sort(on)
	for i := 1; i < len(on); i++ {
		c.m.joints = append(c.m.joints, Joint{Name: p.Name, A: on[0], B: on[i], Point: point})
	}
}

func (c *compiler) slides() {
	for _, s := range c.m.Spec.Slides {
		path := "slides." + s.Name
		a, b := c.body(path+".bodies[0]", s.Bodies[0]), c.body(path+".bodies[1]", s.Bodies[1])
		if a < 0 || b < 0 {
			continue
		}
		if a == b {
			c.fault(path+".bodies", "body %q slides on itself", s.Bodies[0])
		}
		if s.Through[0] == s.Through[1] {
			c.fault(path+".through", "the line needs two points, not %q twice", s.Through[0])
		}
		j := Joint{Name: s.Name, A: a, B: b, Point: -1}
		for i, name := range s.Through {
			j.Through[i] = index(c.m.Points, name)
			c.carry(j.Through[i], a)
		}
		c.m.joints = append(c.m.joints, j)
	}
	slices.SortStableFunc(c.m.joints, func(x, y Joint) int { return strings.Compare(x.Name, y.Name) })
}

// roles finds who carries the axle, the caliper and the shock.
func (c *compiler) roles() {
	m, s := c.m, &c.m.Spec
	m.axle = index(m.Points, scheme.PointAxle)
	m.wheel = c.body("axle", s.Axle)
	m.brake = m.wheel
	if s.Brake != "" {
		m.brake = c.body("brake", s.Brake)
	}
	pinned := slices.Clone(m.carried[m.axle])
	if m.wheel < 0 || m.brake < 0 || m.ground < 0 {
		return
	}
	if len(pinned) > 0 && !slices.Contains(pinned, m.wheel) {
		c.fault("axle", "the pivot %q must be on %q, the body that carries the axle", scheme.PointAxle, s.Axle)
	}
	if m.brake != m.wheel && !slices.Contains(pinned, m.brake) {
		c.fault("brake", "body %q carries the caliper but does not turn about the axle: the caliper would drag on the disc; pin it to %q at a pivot named %q",
			s.Brake, s.Axle, scheme.PointAxle)
	}
	c.carry(m.axle, m.wheel)
	c.carry(index(m.Points, scheme.PointRoot), m.ground)
	m.shock = [2]BodyPoint{{-1, -1}, {-1, -1}}
	if s.Shock == [2]string{} {
		return
	}
	for i, point := range []string{scheme.PointShockUpper, scheme.PointShockLower} {
		b := c.body(fmt.Sprintf("shock[%d]", i), s.Shock[i])
		if b >= 0 {
			m.shock[i] = BodyPoint{b, index(m.Points, point)}
			c.carry(m.shock[i].Point, b)
		}
	}
	if s.Shock[0] == s.Shock[1] {
		c.fault("shock", "both ends of the shock are on %q, so it never shortens", s.Shock[0])
	}
}

func (c *compiler) members() {
	for i, mb := range c.m.Spec.Members {
		path := fmt.Sprintf("members.%s[%d]", mb.Body, i)
		b := c.body("members."+mb.Body, mb.Body)
		for _, name := range []string{mb.From, mb.To} {
			p := index(c.m.Points, name)
			switch {
			case p < 0:
				c.fault(path, "unknown point %q; the points are %s", name, strings.Join(c.m.Points, ", "))
			case b >= 0 && !slices.Contains(c.m.carried[p], b):
				c.fault(path, "point %q is not on body %q", name, mb.Body)
			}
		}
		if mb.From == mb.To {
			c.fault(path, "a member from %q to itself has no length", mb.From)
		}
	}
}

// graph checks what does not depend on coordinates: one degree of freedom, nothing loose.
func (c *compiler) graph() {
	m := c.m
	freedom := 3*(len(m.Bodies)-1) - 2*len(m.joints)
	reached := make([]bool, len(m.Bodies))
	reached[m.ground] = true
	for range m.Bodies {
		for _, j := range m.joints {
			if reached[j.A] || reached[j.B] {
				reached[j.A], reached[j.B] = true, true
			}
		}
	}
	for b, ok := range reached {
		if !ok {
			c.fault("bodies", "body %q is not connected: no chain of joints leads from it to %q", m.Bodies[b], m.Bodies[m.ground])
		}
	}
	if len(c.faults) == 0 && freedom != 1 {
		c.fault("pivots", "%d degrees of freedom (3 × %d moving bodies − 2 × %d joints); a fork has exactly 1",
			freedom, len(m.Bodies)-1, len(m.joints))
	}
	if m.wheel == m.ground {
		c.fault("axle", "the axle is on %q, which does not move", m.Bodies[m.ground])
	}
}

// shafts checks which bodies the spec fixes shafts to.
func (c *compiler) shafts() {
	m := c.m
	m.shafts = make([]int, len(m.Points))
	for i := range m.shafts {
		m.shafts[i] = -1
	}
	for _, s := range m.Spec.Shafts {
		path := "shafts." + s.Pivot
		pivot := slices.IndexFunc(m.Spec.Pivots, func(p scheme.PivotSpec) bool { return p.Name == s.Pivot })
		switch {
		case s.Pivot == scheme.PointAxle:
			c.fault(path, "the wheel axle is fixed to %q, which carries it", m.Spec.Axle)
		case pivot < 0:
			c.fault(path, "%q is not a pivot; the pivots are %s", s.Pivot, strings.Join(pivotNames(m.Spec.Pivots), ", "))
		case !slices.Contains(m.Spec.Pivots[pivot].Bodies, s.Body):
			c.fault(path, "the pivot does not join body %q; it joins %s", s.Body, strings.Join(m.Spec.Pivots[pivot].Bodies, ", "))
		default:
			m.shafts[index(m.Points, s.Pivot)] = c.body(path, s.Body)
		}
	}
}
