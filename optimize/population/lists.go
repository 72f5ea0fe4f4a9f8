package population

import "slices"

// Points returns the objective vectors of members.
func Points(members []*Member) [][]float64 {
	out := make([][]float64, len(members))
	for i, m := range members {
		out[i] = m.Outcome.F
	}
	return out
}

// Subset returns the members at some places of a list.
func Subset(members []*Member, at []int) []*Member {
	out := make([]*Member, len(at))
	for i, k := range at {
		out[i] = members[k]
	}
	return out
}

// SetOf is some members as a set.
func SetOf(members []*Member) map[*Member]bool {
	in := make(map[*Member]bool, len(members))
	for _, m := range members {
		in[m] = true
	}
	return in
}

// Without returns the members that are not in a set, as a slice of its own.
func Without(members []*Member, in map[*Member]bool) []*Member {
	return slices.DeleteFunc(slices.Clone(members), func(m *Member) bool { return in[m] })
}
