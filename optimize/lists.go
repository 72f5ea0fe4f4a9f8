package optimize

import "slices"

// points returns the objective vectors of members.
func points(members []*member) [][]float64 {
	out := make([][]float64, len(members))
	for i, m := range members {
		out[i] = m.outcome.F
	}
	return out
}

// subset returns the members at some places of a list.
func subset(members []*member, at []int) []*member {
	out := make([]*member, len(at))
	for i, k := range at {
		out[i] = members[k]
	}
	return out
}

// setOf is some members as a set.
func setOf(members []*member) map[*member]bool {
	in := make(map[*member]bool, len(members))
	for _, m := range members {
		in[m] = true
	}
	return in
}

// without returns the members that are not in a set, as a slice of its own.
func without(members []*member, in map[*member]bool) []*member {
	return slices.DeleteFunc(slices.Clone(members), func(m *member) bool { return in[m] })
}

// distinct returns the members of some lists, each once, in the order in which they come first.
func distinct(lists ...[]*member) (all []*member) {
	known := map[*member]bool{}
	for _, list := range lists {
		for _, m := range list {
			if !known[m] {
				known[m] = true
				all = append(all, m)
			}
		}
	}
	return all
}
