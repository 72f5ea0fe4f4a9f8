package population

import (
	"cmp"
	"slices"

	"forkfront/optimize/dominance"
)

// Layers sorts members into layers: the first holds those no other one is better than, the
// second those that only the first is better than, and so on. Infeasible members follow
// the feasible ones by their violation, equal ones in one layer. The sorter keeps memory for the next call.
func Layers(s *dominance.Sorter, members []*Member) [][]*Member {
	parted := make([]*Member, 0, len(members))
	for _, m := range members {
		if m.Feasible {
			parted = append(parted, m)
		}
	}
	feasible := parted
	for _, m := range members {
		if !m.Feasible {
			parted = append(parted, m)
		}
	}
	rest := parted[len(feasible):]
	sorted := s.Layers(Points(feasible))
	layers := make([][]*Member, 0, len(sorted)+len(rest))
	own := make([]*Member, 0, len(feasible))
	for _, layer := range sorted {
		first := len(own)
		for _, i := range layer {
			own = append(own, feasible[i])
		}
		layers = append(layers, own[first:len(own):len(own)])
	}
	slices.SortStableFunc(rest, func(a, b *Member) int { return cmp.Compare(a.Violation, b.Violation) })
	for from, to := 0, 0; from < len(rest); from = to {
		for to = from + 1; to < len(rest) && rest[to].Violation == rest[from].Violation; to++ {
		}
		layers = append(layers, rest[from:to:to])
	}
	return layers
}

// Nondominated returns the feasible members that no other one dominates.
func Nondominated(members []*Member) []*Member {
	first := Layers(new(dominance.Sorter), members)
	if len(first) == 0 || !first[0][0].Feasible {
		return nil
	}
	return first[0]
}
