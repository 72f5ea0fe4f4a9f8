// Package population has the candidates that a search works with: what is known of each, which of two is to be preferred, of what kind
// they are, and how lists of them are written down and read back.
package population

import (
	"math"

	"forkfront/optimize/dominance"
	"forkfront/optimize/problem"
	"forkfront/optimize/volume"
)

// Member is a candidate while the search works on it. One that is in a population or in
// the archive is not changed again, except for Violation, Polished and Covers, and except when the late values of a staged problem change.
type Member struct {
	Number    int       // the order in which it was evaluated, from 0
	U         []float64 // variables scaled to 0..1
	X         []float64 // the same in natural units
	Outcome   problem.Outcome
	Feasible  bool
	Whole     bool         // all objectives and constraints have a value
	Violation float64      // see ConstraintScale; 0 when feasible
	Operator  int          // operator that made it; −1: none
	Polished  bool         // a gradient run started from here or ended here
	Kind      Kind         // where the problem tells niches
	Rival     *Member      // parent it competes with; nil: none
	Covers    volume.Cover // the samples of survival that it dominates
	CoversIn  int          // the frame of these samples; 0: not known, as objectives have changed
	Late      *LateValues  // of a staged problem; nil: it is not
}

// New returns n members with room for the given numbers of variables, objectives and constraints. Each has memory of its own; if they
// shared it, one that stays in the archive would keep its whole generation in memory.
func New(n, variables, objectives, constraints int) []*Member {
	members := make([]*Member, n)
	for i := range members {
		slab := make([]float64, 2*variables+objectives+constraints)
		cut := func(k int) []float64 {
			part := slab[:k:k]
			slab = slab[k:]
			return part
		}
		members[i] = &Member{
			U: cut(variables), X: cut(variables), Operator: -1,
			Outcome: problem.Outcome{F: cut(objectives), G: cut(constraints)},
		}
	}
	return members
}

// Sanitise reads what Evaluate wrote. NaN would make every comparison false, so it becomes
// the worst value there is. What followed from objectives that it had before is known no longer.
func (m *Member) Sanitise() {
	for i, f := range m.Outcome.F {
		if math.IsNaN(f) || math.IsInf(f, -1) {
			m.Outcome.F[i] = math.Inf(1)
		}
	}
	for i, g := range m.Outcome.G {
		if math.IsNaN(g) {
			m.Outcome.G[i] = math.Inf(1)
		}
	}
	m.judge()
	m.CoversIn = 0
}

// judge sets what follows from the outcome.
func (m *Member) judge() {
	m.Feasible = m.Outcome.Feasible()
	m.Whole = true
	for _, f := range m.Outcome.F {
		m.Whole = m.Whole && finite(f)
	}
	for _, g := range m.Outcome.G {
		m.Whole = m.Whole && finite(g)
	}
}

func finite(v float64) bool { return !math.IsInf(v, 0) }

// Candidate is the member as a result has it; it shares the slices.
func (m *Member) Candidate() problem.Candidate {
	c := problem.Candidate{Number: m.Number, X: m.X, Outcome: m.Outcome}
	if m.Late != nil {
		c.Late, c.Guessed = m.Late.Values, !m.Late.Measured
	}
	return c
}

// Better reports whether a is to be preferred: feasible before infeasible, then less
// violation, then domination. It is a strict partial order.
func Better(a, b *Member) bool {
	switch {
	case a.Feasible != b.Feasible:
		return a.Feasible
	case !a.Feasible:
		return a.Violation < b.Violation
	}
	return dominance.Dominates(a.Outcome.F, b.Outcome.F)
}

// SquaredGap is the squared distance of two members in objective space, each objective divided by its span.
func SquaredGap(a, b *Member, span []float64) float64 {
	sum := 0.0
	for i, s := range span {
		d := (a.Outcome.F[i] - b.Outcome.F[i]) / s
		sum += d * d
	}
	return sum
}
