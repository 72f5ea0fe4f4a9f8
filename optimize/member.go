package optimize

import (
	"math"

	"forkfront/optimize/dominance"
	"forkfront/optimize/volume"
)

// member is a candidate while the search works on it. One that is in a population or in
// the archive is never changed again, but for violation and polished.
type member struct {
	number    int
	u         []float64 // variables scaled to 0..1
	x         []float64 // the same in natural units
	outcome   Outcome
	feasible  bool
	whole     bool         // all objectives and constraints have a value
	violation float64      // scaled by scaling; 0 when feasible
	operator  int          // operator that made it; −1: none
	polished  bool         // a gradient run started from here or ended here
	kind      kind         // see Niched
	rival     *member      // parent it competes with; nil: none
	covers    volume.Cover // the samples of survival that it dominates, in coverFrame
	coversIn  int          // the frame of covers; 0: none, as objectives have changed
	late      *late        // of a staged problem; nil: it is not
}

// kind tells members apart that hardly turn into each other, as Niched tells.
type kind struct {
	niche uint64
	part  uint64 // of the niche, with the same values of categorical variables
}

// key is the kind as a number, by niches or by their parts.
func (k kind) key(divided bool) uint64 {
	if divided {
		return k.part
	}
	return k.niche
}

// newMembers returns n members sized for the problem. Each has its own memory, or one that
// stays in the archive for long would keep its whole generation there.
func newMembers(n, variables, objectives, constraints int) []*member {
	members := make([]*member, n)
	for i := range members {
		slab := make([]float64, 2*variables+objectives+constraints)
		cut := func(k int) []float64 {
			part := slab[:k:k]
			slab = slab[k:]
			return part
		}
		members[i] = &member{
			u: cut(variables), x: cut(variables), operator: -1,
			outcome: Outcome{F: cut(objectives), G: cut(constraints)},
		}
	}
	return members
}

// sanitise reads what Evaluate wrote. NaN would make every comparison false, so it becomes
// the worst value there is.
func (m *member) sanitise() {
	for i, f := range m.outcome.F {
		if math.IsNaN(f) || math.IsInf(f, -1) {
			m.outcome.F[i] = math.Inf(1)
		}
	}
	for i, g := range m.outcome.G {
		if math.IsNaN(g) {
			m.outcome.G[i] = math.Inf(1)
		}
	}
	m.judge()
}

// judge sets what follows from the outcome.
func (m *member) judge() {
	m.feasible = m.outcome.Feasible()
	m.whole = true
	for _, f := range m.outcome.F {
		m.whole = m.whole && finite(f)
	}
	for _, g := range m.outcome.G {
		m.whole = m.whole && finite(g)
	}
}

func finite(v float64) bool { return !math.IsInf(v, 0) }

func (m *member) candidate() Candidate {
	c := Candidate{Number: m.number, X: m.x, Outcome: m.outcome}
	if m.late != nil {
		c.Late, c.Guessed = m.late.values, !m.late.measured
	}
	return c
}

// better reports whether a is to be preferred: feasible before infeasible, then less
// violation, then domination. It is a strict partial order.
func better(a, b *member) bool {
	switch {
	case a.feasible != b.feasible:
		return a.feasible
	case !a.feasible:
		return a.violation < b.violation
	}
	return dominance.Dominates(a.outcome.F, b.outcome.F)
}

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

// squaredGap is the squared distance of two members in objective space, in spans.
func squaredGap(a, b *member, span []float64) float64 {
	sum := 0.0
	for i, s := range span {
		d := (a.outcome.F[i] - b.outcome.F[i]) / s
		sum += d * d
	}
	return sum
}
