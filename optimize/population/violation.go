package population

import "math"

// ConstraintScale is the largest finite violation of each constraint seen so far, so that
// constraints of different size count alike; one entry per constraint.
type ConstraintScale []float64

// Observe takes in the violations of a member.
func (s ConstraintScale) Observe(m *Member) {
	for i, g := range m.Outcome.G {
		if g > s[i] && !math.IsInf(g, 1) {
			s[i] = g
		}
	}
}

// SetViolation sets the member's violation: the sum over the constraints, each divided by its
// largest so far, plus the share of objectives without a value.
func (s ConstraintScale) SetViolation(m *Member) {
	m.Violation = 0
	if m.Feasible {
		return
	}
	for i, g := range m.Outcome.G {
		if math.IsInf(g, 1) {
			m.Violation += 2
		} else if g > 0 {
			m.Violation += g / s[i]
		}
	}
	for _, f := range m.Outcome.F {
		if math.IsInf(f, 1) {
			m.Violation += 1 / float64(len(m.Outcome.F))
		}
	}
}
