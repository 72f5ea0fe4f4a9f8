package optimize

import (
	"cmp"
	"slices"
	"sort"
)

// ranker sorts members into layers. It owns nothing but scratch memory.
type ranker struct{ bits dominators }

// fronts sorts members into layers: the first holds those no other one is better than, the
// second those that only the first is better than, and so on. Infeasible members follow
// the feasible ones by their violation, equal ones in one layer.
func (r *ranker) fronts(members []*member) [][]*member {
	var feasible, rest []*member
	for _, m := range members {
		if m.feasible {
			feasible = append(feasible, m)
		} else {
			rest = append(rest, m)
		}
	}
	layers := r.feasibleFronts(feasible)
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
// (Zhang, Tian, Cheng, Jin, IEEE Trans. Evol. Comput. 19, 2015; from memory). Members of
// equal objectives, which stand side by side, share a layer.
func (r *ranker) feasibleFronts(members []*member) [][]*member {
	slices.SortStableFunc(members, func(a, b *member) int { return slices.Compare(a.out.F, b.out.F) })
	var layers [][]*member
	at, known := 0, r.layering(members)
	for i, m := range members {
		if i == 0 || !same(m.out.F, members[i-1].out.F) {
			at = sort.Search(len(layers), func(k int) bool { return !known.dominated(k, i) })
			known.put(at, i)
		}
		if at == len(layers) {
			layers = append(layers, nil)
		}
		layers[at] = append(layers[at], m)
	}
	return layers
}

// layering remembers which members are in which layer. Members are put in lexicographic
// order, of equal ones only the first.
type layering interface {
	dominated(layer, member int) bool // whether one of the layer dominates the member
	put(layer, member int)            // layer is at most one more than those there are
}

// dominatorsMost is the number of members up to which their dominators are held as bit
// sets: 25 MB then.
const dominatorsMost = 20000

func (r *ranker) layering(members []*member) layering {
	switch {
	case len(members) == 0 || len(members[0].out.F) == 3:
		return &stairLayers{members: members}
	case len(members[0].out.F) > 3 && len(members) <= dominatorsMost:
		r.bits.fill(members)
		return &bitLayers{all: &r.bits}
	}
	return &listLayers{members: members}
}

// listLayers holds the members of each layer and looks through them, the latest first: they
// are the nearest. With two objectives the latest has the layer's least second one, which
// suffices.
type listLayers struct {
	members []*member
	layers  [][]int
}

func (l *listLayers) put(layer, member int) {
	if layer == len(l.layers) {
		l.layers = append(l.layers, nil)
	}
	l.layers[layer] = append(l.layers[layer], member)
}

func (l *listLayers) dominated(layer, member int) bool {
	f, in := l.members[member].out.F, l.layers[layer]
	last := 0
	if len(f) <= 2 {
		last = len(in) - 1
	}
	for i := len(in) - 1; i >= last; i-- {
		if dominates(l.members[in[i]].out.F, f) {
			return true
		}
	}
	return false
}

// nondominatedMembers returns the feasible ones that no other one dominates.
func nondominatedMembers(members []*member) []*member {
	first := new(ranker).fronts(slices.Clone(members))
	if len(first) == 0 || !first[0][0].feasible {
		return nil
	}
	return first[0]
}
