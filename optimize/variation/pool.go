package variation

import (
	"forkfront/optimize/population"
	"forkfront/optimize/spacing"
)

// matingPool is what offspring are made from.
type matingPool struct {
	parents    []*population.Member
	archive    []*population.Member
	infeasible []*population.Member // found lately
	known      crowd                // parents and infeasible; empty until it is asked for
	low, high  []float64            // of the parents' objectives; empty until they are asked for
}

func (s *matingPool) set(parents, archive, infeasible []*population.Member) {
	s.parents, s.archive, s.infeasible, s.known.members = parents, archive, infeasible, s.known.members[:0]
	s.low, s.high = s.low[:0], s.high[:0]
}

// bounds are the ranges of the parents' objectives.
func (s *matingPool) bounds() (low, high []float64) {
	if len(s.low) == 0 {
		s.low, s.high = append(s.low, s.parents[0].Outcome.F...), append(s.high, s.parents[0].Outcome.F...)
		for _, m := range s.parents {
			spacing.Widen(s.low, s.high, m.Outcome.F)
		}
	}
	return s.low, s.high
}

// crowd is what slopes are fitted to.
func (s *matingPool) crowd() *crowd {
	if len(s.known.members) == 0 {
		s.known.fill(s.parents, s.infeasible)
	}
	return &s.known
}

// serves tells whether there are enough members for an operator.
func (s *matingPool) serves(operator int) bool {
	switch operator {
	case operatorNeighbour, operatorPredict, operatorCorrect:
		return len(s.parents) >= 4 && len(s.archive) >= 5
	case operatorSegment:
		return len(s.parents) >= 4 && len(s.archive) > 0 && len(s.infeasible) > 0
	}
	return len(s.parents) >= 4
}
