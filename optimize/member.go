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
// the worst value there is. What followed from objectives that it had before is known no longer.
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
	m.coversIn = 0
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

// squaredGap is the squared distance of two members in objective space, in spans.
func squaredGap(a, b *member, span []float64) float64 {
	sum := 0.0
	for i, s := range span {
		d := (a.outcome.F[i] - b.outcome.F[i]) / s
		sum += d * d
	}
	return sum
}
