package optimize

import (
	"cmp"
	"slices"
)

const (
	nearestMost  = 5    // near misses that a result has
	nearestLeast = 3    // and has at least, even if they say nothing new
	scarce       = 1000 // evaluations per feasible one above which it has them
)

// nearest chooses near misses among members, the smallest violation first: the best member of each set of violated
// constraints, for two that violate the same ones seldom differ; sets that only add to an earlier one fill it up.
func nearest(all []*member) []Candidate {
	all = slices.DeleteFunc(all, func(m *member) bool { return m.feasible })
	slices.SortFunc(all, byViolation)
	var chosen, rest []*member
	for _, m := range all {
		known := func(k *member) bool { return sameViolations(k, m) }
		switch {
		case slices.ContainsFunc(chosen, known) || slices.ContainsFunc(rest, known):
		case len(chosen) < nearestMost && !slices.ContainsFunc(chosen, func(k *member) bool { return violatesToo(m, k) }):
			chosen = append(chosen, m)
		default:
			rest = append(rest, m)
		}
	}
	if short := nearestLeast - len(chosen); short > 0 {
		chosen = append(chosen, rest[:min(short, len(rest))]...)
		slices.SortFunc(chosen, byViolation)
	}
	var found []Candidate
	for _, m := range chosen {
		found = append(found, m.candidate())
	}
	return found
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
