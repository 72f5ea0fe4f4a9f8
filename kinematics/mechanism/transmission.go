package mechanism

import "slices"

// arrangement is one way to read the mechanism as a driver, dyads and groups, of which the angles
// between links are measured.
type arrangement struct {
	Steps  []Step
	Loaded []int // steps that close over links which bear load
}

// transmission chooses the arrangements that transmission angles are measured in. Where the shock stands
// between the ground and a body that is joined to the ground, this body drives: with the shock locked it
// stands still. Otherwise each body that is joined to the ground drives in turn. Names do not enter. plans
// have the smallest burden.
func (m *Mechanism) transmission(plans []*plan) []*plan {
	onShock := func(p *plan) bool {
		ends := [2]int{m.shock[0].Body, m.shock[1].Body}
		return m.HasShock() && slices.Contains(ends[:], m.ground) && slices.Contains(ends[:], p.steps[0].Body[0])
	}
	if slices.ContainsFunc(plans, onShock) {
		plans = slices.DeleteFunc(slices.Clone(plans), func(p *plan) bool { return !onShock(p) })
	}
	for _, p := range plans {
		m.arranged = append(m.arranged, arrangement{p.steps, m.loaded(p.steps)})
		m.grouped = m.grouped || slices.ContainsFunc(p.steps, func(s Step) bool { return s.Group != nil })
	}
	return plans
}

// loaded lists the steps after the driver that bear load between the ground and the axle, the caliper or
// the shock: those that place one of these, and those that hold up what does.
func (m *Mechanism) loaded(steps []Step) []int {
	bears := make([]bool, len(m.Bodies))
	bears[m.wheel], bears[m.brake] = true, true
	if m.HasShock() {
		bears[m.shock[0].Body], bears[m.shock[1].Body] = true, true
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
func (s *Step) rests() []int {
	if s.Group == nil {
		return []int{s.On[0].Body, s.On[1].Body}
	}
	var all []int
	for i := range s.Group.Links {
		all = append(all, s.Group.Links[i].Parent)
	}
	for i := range s.Group.Loops {
		all = append(all, s.Group.Loops[i].A, s.Group.Loops[i].B)
	}
	return all
}

// PlainAngles tells whether the angles of all dyads of the driver's own arrangement count, and no others.
func (m *Mechanism) PlainAngles() bool {
	return len(m.arranged) == 1 && len(m.arranged[0].Loaded) == len(m.steps)-1
}
