package optimize

import (
	"cmp"
	"slices"
)

const (
	missesMost  = 5 // near misses that are chosen
	missesLeast = 3 // and at least, even if they say nothing new
)

// nearMisses chooses near misses among members, the smallest violation first: the best member of each set of violated
// constraints, for two that violate the same ones seldom differ; sets that only add to an earlier one fill it up.
func nearMisses(all []*member) []*member {
	all = slices.DeleteFunc(all, func(m *member) bool { return m.feasible })
	slices.SortFunc(all, byViolation)
	var chosen, rest []*member
	for _, m := range all {
		known := func(k *member) bool { return sameViolations(k, m) }
		switch {
		case slices.ContainsFunc(chosen, known) || slices.ContainsFunc(rest, known):
		case len(chosen) < missesMost && !slices.ContainsFunc(chosen, func(k *member) bool { return violatesToo(m, k) }):
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

func byViolation(a, b *member) int {
	return cmp.Or(cmp.Compare(a.outcome.Violation(), b.outcome.Violation()), cmp.Compare(a.number, b.number))
}

// violatesToo reports whether m violates every constraint that k violates.
func violatesToo(m, k *member) bool {
	for i, g := range k.outcome.G {
		if g > 0 && m.outcome.G[i] <= 0 {
			return false
		}
	}
	return true
}

func sameViolations(a, b *member) bool { return violatesToo(a, b) && violatesToo(b, a) }
