package archive

import (
	"cmp"
	"slices"

	"forkfront/optimize/population"
)

const (
	missesMost  = 5 // near misses that are chosen
	missesLeast = 3 // and at least, even if they say nothing new
)

// NearMisses chooses up to five near misses among members, the smallest violation first; it reorders them. Chosen is the best member of each set of violated
// constraints, for two that violate the same ones seldom differ; sets that only add to an earlier one fill it up.
func NearMisses(all []*population.Member) []*population.Member {
	all = slices.DeleteFunc(all, func(m *population.Member) bool { return m.Feasible })
	slices.SortFunc(all, byViolation)
	var chosen, rest []*population.Member
	for _, m := range all {
		known := func(k *population.Member) bool { return sameViolations(k, m) }
		switch {
		case slices.ContainsFunc(chosen, known) || slices.ContainsFunc(rest, known):
		case len(chosen) < missesMost && !slices.ContainsFunc(chosen, func(k *population.Member) bool { return violatesToo(m, k) }):
			chosen = append(chosen, m)
		default:
			rest = append(rest, m)
		}
	}
	if short := missesLeast - len(chosen); short > 0 {
		chosen = append(chosen, rest[:min(short, len(rest))]...)
		slices.SortFunc(chosen, byViolation)
	}
	return chosen
}

func byViolation(a, b *population.Member) int {
	return cmp.Or(cmp.Compare(a.Outcome.Violation(), b.Outcome.Violation()), cmp.Compare(a.Number, b.Number))
}

// violatesToo reports whether m violates every constraint that k violates.
func violatesToo(m, k *population.Member) bool {
	for i, g := range k.Outcome.G {
		if g > 0 && m.Outcome.G[i] <= 0 {
			return false
		}
	}
	return true
}

func sameViolations(a, b *population.Member) bool { return violatesToo(a, b) && violatesToo(b, a) }
