package optimize

import (
	"cmp"
	"slices"
	"sort"
)

// fronts sorts members into layers: the first holds those no other one is better than, the
// second those that only the first is better than, and so on. Infeasible members follow
// the feasible ones by their violation, equal ones in one layer.
func fronts(members []*member) [][]*member {
	var feasible, rest []*member
	for _, m := range members {
		if m.feasible {
			feasible = append(feasible, m)
		} else {
			rest = append(rest, m)
		}
	}
	layers := feasibleFronts(feasible)
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

// feasibleFronts goes through the members in lexicographic order, so that none can be
// dominated by a later one, and finds each one's layer by binary search over the layers
// (Zhang, Tian, Cheng, Jin, IEEE Trans. Evol. Comput. 19, 2015; from memory).
func feasibleFronts(members []*member) [][]*member {
	slices.SortStableFunc(members, func(a, b *member) int { return slices.Compare(a.out.F, b.out.F) })
	var layers [][]*member
	for _, m := range members {
		at := sort.Search(len(layers), func(k int) bool { return !dominatedBy(layers[k], m) })
		if at == len(layers) {
			layers = append(layers, nil)
		}
		layers[at] = append(layers[at], m)
	}
	return layers
}

// dominatedBy asks the layer's latest members first: they are the nearest.
func dominatedBy(layer []*member, m *member) bool {
	f := m.out.F
	if len(f) == 2 {
		// In lexicographic order the latest of a layer has its least second objective.
		return dominates(layer[len(layer)-1].out.F, f)
	}
	for i := len(layer) - 1; i >= 0; i-- {
		if dominates(layer[i].out.F, f) {
			return true
		}
	}
	return false
}

// nondominatedMembers returns the feasible ones that no other one dominates.
func nondominatedMembers(members []*member) []*member {
	first := fronts(slices.Clone(members))
	if len(first) == 0 || !first[0][0].feasible {
		return nil
	}
	return first[0]
}
