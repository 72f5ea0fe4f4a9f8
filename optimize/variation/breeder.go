package variation

import (
	randv2 "math/rand/v2"

	"forkfront/optimize/population"
	"forkfront/optimize/problem"
)

// breeder has the operators that make single children. It owns nothing but scratch memory.
type breeder struct {
	rng            *randv2.Rand
	space          *problem.Space
	low            []float64 // scratch for the objectives' range
	high           []float64
	aimAtCrossings bool    // whether segment aims at the crossing of a constraint
	resets         float64 // chance that a mutation forgets the value of a variable
	slopes         slopes
	multipliers    []float64 // scratch of project
}

func newBreeder(s *problem.Space, objectives int, rng *randv2.Rand) breeder {
	return breeder{
		rng: rng, space: s,
		low: make([]float64, objectives), high: make([]float64, objectives), aimAtCrossings: objectives <= crossingObjectives,
	}
}

func (b *breeder) random(from []*population.Member) *population.Member {
	return from[b.rng.IntN(len(from))]
}

// distinctThree picks members that differ from each other and from target: two equal ones would
// make a copy. Four are needed; with fewer some repeat.
func (b *breeder) distinctThree(from []*population.Member, target *population.Member) (x, y, z *population.Member) {
	other := func(m1, m2, m3 *population.Member) *population.Member {
		for range 100 {
			if m := b.random(from); m != m1 && m != m2 && m != m3 {
				return m
			}
		}
		return b.random(from)
	}
	x = other(target, nil, nil)
	y = other(target, x, nil)
	return x, y, other(target, x, y)
}

// other picks a member of two lists that is neither of two others.
func (b *breeder) other(from, more []*population.Member, not, nor *population.Member) *population.Member {
	m := not
	for try := 0; try < 100 && (m == not || m == nor); try++ {
		if k := b.rng.IntN(len(from) + len(more)); k < len(from) {
			m = from[k]
		} else {
			m = more[k-len(from)]
		}
	}
	return m
}
