package optimize

import (
	"cmp"
	"slices"

	"forkfront/optimize/dominance"
)

// layersOf sorts members into layers: the first holds those no other one is better than, the
// second those that only the first is better than, and so on. Infeasible members follow
// the feasible ones by their violation, equal ones in one layer.
func layersOf(s *dominance.Sorter, members []*member) [][]*member {
	parted := make([]*member, 0, len(members))
	for _, m := range members {
		if m.feasible {
			parted = append(parted, m)
		}
	}
	feasible := parted
	for _, m := range members {
		if !m.feasible {
			parted = append(parted, m)
		}
	}
	rest := parted[len(feasible):]
	sorted := s.Layers(points(feasible))
	layers := make([][]*member, 0, len(sorted)+len(rest))
	own := make([]*member, 0, len(feasible))
	for _, layer := range sorted {
		first := len(own)
		for _, i := range layer {
			own = append(own, feasible[i])
		}
		layers = append(layers, own[first:len(own):len(own)])
	}
	slices.SortStableFunc(rest, func(a, b *member) int { return cmp.Compare(a.violation, b.violation) })
	for from, to := 0, 0; from < len(rest); from = to {
		for to = from + 1; to < len(rest) && rest[to].violation == rest[from].violation; to++ {
		}
		layers = append(layers, rest[from:to:to])
	}
	return layers
}

// nondominatedMembers returns the feasible ones that no other one dominates.
func nondominatedMembers(members []*member) []*member {
	first := layersOf(new(dominance.Sorter), members)
	if len(first) == 0 || !first[0][0].feasible {
		return nil
	}
	return first[0]
}
