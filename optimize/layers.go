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
	var feasible, rest []*member
	for _, m := range members {
		if m.feasible {
			feasible = append(feasible, m)
		} else {
			rest = append(rest, m)
		}
	}
	var layers [][]*member
	for _, layer := range s.Layers(points(feasible)) {
		layers = append(layers, subset(feasible, layer))
	}
	slices.SortStableFunc(rest, func(a, b *member) int { return cmp.Compare(a.violation, b.violation) })
	for i, m := range rest {
		if i > 0 && rest[i-1].violation == m.violation {
			layers[len(layers)-1] = append(layers[len(layers)-1], m)
			continue
		}
		layers = append(layers, []*member{m})
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
