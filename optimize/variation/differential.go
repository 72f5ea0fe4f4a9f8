package variation

import (
	"math"

	"forkfront/optimize/population"
	"forkfront/optimize/spacing"
)

// differentialWeight is the factor of a narrow differential: a half, with which a population contracts,
// or 1, which carries a step from one basin to the next over whole: where the optima of a
// variable lie in rows, a half would need two members two basins apart.
func (b *breeder) differentialWeight() float64 {
	if b.rng.Float64() < 0.5 {
		return 1
	}
	return 0.5
}

// differential takes base + f (p − q) in a random part of the variables, at least one, and
// target in the others.
func (b *breeder) differential(child, target, base, p, q *population.Member, f, rate float64) {
	sure := b.rng.IntN(len(child.U))
	for i := range child.U {
		if i != sure && b.rng.Float64() >= rate {
			child.U[i] = target.U[i]
			continue
		}
		child.U[i] = b.repairBound(base.U[i]+f*(p.U[i]-q.U[i]), base.U[i])
		if v := &b.space.Variables[i]; v.Categorical && v.Levels > 0 {
			child.U[i] = [...]float64{base.U[i], base.U[i], p.U[i], q.U[i]}[b.rng.IntN(4)]
		}
	}
}

// repairBound brings a value back: to the bound in half of the cases, since optima lie there,
// else somewhere between its base and the bound, so that they do not pile up there.
func (b *breeder) repairBound(v, base float64) float64 {
	if v >= 0 && v <= 1 {
		return v
	}
	bound := 0.0
	if v > 1 {
		bound = 1
	}
	if b.rng.Float64() < 0.5 {
		return bound
	}
	return base + b.rng.Float64()*(bound-base)
}

// feasibleBase picks a feasible parent, or a member of the archive when none comes up. Parents are
// spread evenly; the archive is densest where offspring did well, and would draw ever more
// of them there.
func (b *breeder) feasibleBase(s *matingPool) *population.Member {
	for range 10 {
		if m := b.random(s.parents); m.Feasible {
			return m
		}
	}
	return b.random(s.archive)
}

// neighbour returns the nearest of eight random members to m but not, in objectives scaled by the
// range among them.
func (b *breeder) neighbour(m, not *population.Member, from []*population.Member) *population.Member {
	var tried [8]*population.Member
	copy(b.low, m.Outcome.F)
	copy(b.high, m.Outcome.F)
	for i := range tried {
		tried[i] = b.random(from)
		spacing.Widen(b.low, b.high, tried[i].Outcome.F)
	}
	best, least := tried[0], math.Inf(1)
	for j := range b.high {
		b.high[j] -= b.low[j]
	}
	for _, t := range tried {
		if t == m || t == not {
			continue
		}
		sum := 0.0
		for j, v := range t.Outcome.F {
			if r := b.high[j]; r > 0 {
				d := v - m.Outcome.F[j]
				if sum += d / r * d / r; sum >= least {
					break
				}
			}
		}
		if sum < least {
			best, least = t, sum
		}
	}
	return best
}
