package optimize

import "math"

// constraintScale is the largest finite violation of each constraint seen so far, so that
// constraints of different size count alike.
type constraintScale []float64

func (s constraintScale) observe(m *member) {
	for i, g := range m.outcome.G {
		if g > s[i] && !math.IsInf(g, 1) {
			s[i] = g
		}
	}
}

// setViolation sets the member's violation: the sum over the constraints, each divided by its
// largest so far, plus the share of objectives without a value.
func (s constraintScale) setViolation(m *member) {
	m.violation = 0
	if m.feasible {
		return
	}
	for i, g := range m.outcome.G {
		if math.IsInf(g, 1) {
			m.violation += 2
		} else if g > 0 {
			m.violation += g / s[i]
		}
	}
	for _, f := range m.outcome.F {
		if math.IsInf(f, 1) {
			m.violation += 1 / float64(len(m.outcome.F))
		}
	}
}
