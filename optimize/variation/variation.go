package variation

import (
	"slices"

	"forkfront/optimize/population"
)

// wholeShare is the part of the wide differentials that move their parent along a whole difference, unmutated, as
// decomposition with differential evolution does (Li and Zhang, IEEE Trans. Evol. Comput. 13 (2009) 284). Unlike all
// others these do not depend on how the variables are turned.
const wholeShare = 0.5

// wideFactor is the factor of a wide differential.
func (b *breeder) wideFactor() float64 { return 0.4 + 0.3*b.rng.Float64() }

// neighbourFactor is the factor of a difference between neighbours in the archive.
func (b *breeder) neighbourFactor() float64 { return 0.2 + 0.6*b.rng.Float64() }

// make fills child by the operator; target is its parent where it has one. often is the chance that a
// differential child is mutated too.
func (b *breeder) make(child *population.Member, operator int, s *matingPool, target *population.Member, often float64) {
	child.Operator, child.Rival = operator, nil
	p, q := target, target
	base := target
	mutate := false
	switch operator {
	case operatorNarrow:
		child.Rival = target
		base, p, q = b.distinctThree(s.parents, target)
		b.differential(child, target, base, p, q, b.differentialWeight(), 0.1)
		mutate = b.rng.Float64() < often
	case operatorWide:
		child.Rival = target
		base, p, q = b.distinctThree(s.parents, target)
		if b.rng.Float64() < wholeShare {
			base = target
			b.differential(child, target, base, p, q, b.wideFactor(), 1)
			break
		}
		b.differential(child, target, base, p, q, b.wideFactor(), 0.3+0.7*b.rng.Float64())
		mutate = b.rng.Float64() < often
	case operatorNeighbour:
		base = b.feasibleBase(s)
		rate := 1.0
		if b.rng.Float64() < 0.5 {
			rate = 0.5
		}
		p = b.neighbour(base, base, s.archive)
		q = b.neighbour(base, p, s.archive)
		b.differential(child, base, base, p, q, b.neighbourFactor(), rate)
	case operatorSegment:
		base = b.segment(child, s)
	case operatorWhole:
		child.Rival = target
		p, q = b.wholeAmongNeighbours(child, target, s)
		mutate = b.rng.Float64() < b.resets
	case operatorSlope:
		child.Rival = target
		b.alongSlopes(child, target, s)
	case operatorPredict:
		base = b.predict(child, s.archive)
	case operatorCorrect:
		base, p, q = b.correct(child, s.archive)
	default:
		p, q = b.random(s.parents), b.random(s.parents)
		b.crossover(child, p, q)
		mutate = true
	}
	switch {
	case mutate && child.Rival != nil && b.rng.Float64() < 0.5:
		b.mutateOne(child.U, b.rng.IntN(len(child.U)))
	case mutate:
		b.mutate(child.U, 1/float64(len(child.U)))
	}
	b.ensureDistinct(child, target, base, p, q, b.random(s.parents))
}

// ensureDistinct mutates a child that is a copy of one it was made from until it no longer
// is: a copy of a good point survives, teaches nothing and crowds out others.
func (b *breeder) ensureDistinct(child *population.Member, from ...*population.Member) {
	b.space.Snap(child.U)
	for try := 0; try < 8 && equalsAny(child, from); try++ {
		b.mutateOne(child.U, b.rng.IntN(len(child.U)))
		b.space.Snap(child.U)
	}
	b.space.Natural(child.X, child.U)
}

func equalsAny(child *population.Member, from []*population.Member) bool {
	for _, m := range from {
		if slices.Equal(child.U, m.U) {
			return true
		}
	}
	return false
}

// LatinHypercube fills members with a Latin hypercube: every variable's range is cut into as
// many strips as there are members, and each strip is used once. Discrete variables go to the nearest level.
func (b *breeder) LatinHypercube(members []*population.Member) {
	for i := range b.space.Variables {
		for k, strip := range b.rng.Perm(len(members)) {
			members[k].U[i] = (float64(strip) + b.rng.Float64()) / float64(len(members))
		}
	}
	for _, m := range members {
		b.space.Snap(m.U)
		b.space.Natural(m.X, m.U)
	}
}
