package kinematics

import "slices"

// arrangement is one way to read the mechanism as a driver, dyads and groups, of which the angles
// between links are measured.
type arrangement struct {
	steps  []step
	loaded []int // steps that close over links which bear load
}

// transmission chooses the arrangements that transmission angles are measured in. Where the shock stands
// between the ground and a body that is joined to the ground, this body drives: with the shock locked it
// stands still. Otherwise each body that is joined to the ground drives in turn. Names do not enter. plans
// have the smallest burden.
func (m *Mechanism) transmission(plans []*plan) []*plan {
	onShock := func(p *plan) bool {
		ends := [2]int{m.shock[0].body, m.shock[1].body}
		return m.HasShock() && slices.Contains(ends[:], m.ground) && slices.Contains(ends[:], p.steps[0].body[0])
	}
	if slices.ContainsFunc(plans, onShock) {
		plans = slices.DeleteFunc(slices.Clone(plans), func(p *plan) bool { return !onShock(p) })
	}
	for _, p := range plans {
		m.arranged = append(m.arranged, arrangement{p.steps, m.loaded(p.steps)})
		m.grouped = m.grouped || slices.ContainsFunc(p.steps, func(s step) bool { return s.group != nil })
	}
	return plans
}

// loaded lists the steps after the driver that bear load between the ground and the axle, the caliper or
// the shock: those that place one of these, and those that hold up what does.
func (m *Mechanism) loaded(steps []step) []int {
	bears := make([]bool, len(m.Bodies))
	bears[m.wheel], bears[m.brake] = true, true
	if m.HasShock() {
		bears[m.shock[0].body], bears[m.shock[1].body] = true, true
	}
	var all []int
	for i := len(steps) - 1; i > 0; i-- {
		s := &steps[i]
		if !slices.ContainsFunc(s.bodies(), func(b int) bool { return bears[b] }) {
			continue
		}
		all = append(all, i)
		for _, b := range s.rests() {
			bears[b] = true
		}
	}
	return all
}

// rests lists the bodies that a step's bodies are joined to.
func (s *step) rests() []int {
	if s.group == nil {
		return []int{s.on[0].body, s.on[1].body}
	}
	var all []int
	for i := range s.group.links {
		all = append(all, s.group.links[i].parent)
	}
	for i := range s.group.loops {
		all = append(all, s.group.loops[i].a, s.group.loops[i].b)
	}
	return all
}

// plainAngles tells whether the angles of all dyads of the driver's own arrangement count, and no others.
func (m *Mechanism) plainAngles() bool {
	return len(m.arranged) == 1 && len(m.arranged[0].loaded) == len(m.steps)-1
}
