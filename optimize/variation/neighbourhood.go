package variation

import (
	"forkfront/optimize/population"
	"forkfront/optimize/spacing"
)

// neighbourhood is how many parents mate with each other where mating is restricted to neighbours. It is that of
// decomposition with differential evolution (Li and Zhang, IEEE Trans. Evol. Comput. 13 (2009) 284), and so is the
// factor of their differences: where optima lie in rows, a half takes two parents two rows apart to the row between.
const (
	neighbourhood   = 20
	neighbourWeight = 0.5
)

// wholeAmongNeighbours moves target along the whole difference between two of the parents nearest to it in objective
// space. It does not depend on how the variables are turned.
func (b *breeder) wholeAmongNeighbours(child, target *population.Member, s *matingPool) (p, q *population.Member) {
	var nearest [neighbourhood]*population.Member
	near := nearest[:b.nearest(&nearest, target, s)]
	if len(near) < 2 {
		_, p, q = b.distinctThree(s.parents, target)
	} else {
		i, j := b.rng.IntN(len(near)), b.rng.IntN(len(near)-1)
		if j >= i {
			j++
		}
		p, q = near[i], near[j]
	}
	b.differential(child, target, target, p, q, neighbourWeight, 1)
	return p, q
}

// nearest writes the members nearest to m but m itself, the nearest first, and returns how many there are. Objectives
// are scaled by their range.
func (b *breeder) nearest(dst *[neighbourhood]*population.Member, m *population.Member, s *matingPool) int {
	low, high := s.bounds()
	copy(b.low, low)
	copy(b.high, high)
	spacing.Widen(b.low, b.high, m.Outcome.F)
	for j := range b.high {
		if b.high[j] -= b.low[j]; b.high[j] == 0 {
			b.high[j] = 1
		}
	}
	var gaps [neighbourhood]float64
	n := 0
	for _, o := range s.parents {
		if o == m {
			continue
		}
		gap := population.SquaredGap(m, o, b.high)
		if n == neighbourhood && !(gap < gaps[n-1]) {
			continue
		}
		i := min(n, neighbourhood-1)
		for ; i > 0 && gaps[i-1] > gap; i-- {
			gaps[i], dst[i] = gaps[i-1], dst[i-1]
		}
		gaps[i], dst[i] = gap, o
		n = min(n+1, neighbourhood)
	}
	return n
}
