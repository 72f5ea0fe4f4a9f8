package optimize

import (
	"math"
	"slices"
	"sort"

	"forkfront/optimize/dominance"
	"forkfront/optimize/spacing"
)

// archive holds the feasible candidates that no other one found dominates, at most one in each
// box of resolutions. It may grow to twice its limit before it is thinned.
//
// With two objectives the members are kept in the order of the first, so an insertion
// costs a binary search; otherwise a tree finds those that matter. The order of members
// follows only from what was offered, not from the tree's shape.
type archive struct {
	objectives []Objective
	limit      int
	members    []*member
	values     []float64      // objectives of the members, one after the other: a look at all of them stays in one place
	marks      []mark         // of the members
	sortedKeys [][]float64    // with two objectives: keys of the members
	tree       dominance.Tree // otherwise: keys of the members, by their places
	key        []float64      // scratch
	low, high  []float64      // of the members' objectives; nil: not known since the last one with the least or the largest value has gone
	atLow      []int          // members with the least value of each objective
	atHigh     []int          // and with the largest
}

func newArchive(objectives []Objective, limit int) *archive {
	return &archive{objectives: objectives, limit: limit, key: make([]float64, len(objectives))}
}

// below gives the objectives of members that are nowhere beyond a limit, and of some that are. The limit may be lowered while it looks
// for them; visit tells when it has been. Several goroutines may call it.
func (a *archive) below(limit []float64, visit func(values []float64) (lower bool)) {
	width := len(limit)
	if len(a.objectives) == 2 {
	next:
		for values := a.values; len(values) > 0; values = values[width:] {
			for i, f := range values[:width] {
				if f > limit[i] {
					continue next
				}
			}
			visit(values[:width])
		}
		return
	}
	var room [8]float64
	key := append(room[:0], limit...)
	a.box(key, limit)
	a.tree.Below(key, func(at int) bool {
		lower := visit(a.values[at*width : (at+1)*width])
		if lower {
			a.box(key, limit)
		}
		return lower
	})
}

// box writes where f lies.
func (a *archive) box(key, f []float64) {
	for i, v := range f {
		if r := a.objectives[i].Resolution; r > 0 {
			v = math.Floor(v / r)
		}
		key[i] = v
	}
}

// cornerDistance2 is the squared distance of f from the best corner of its box, in resolutions.
func (a *archive) cornerDistance2(f []float64) float64 {
	sum := 0.0
	for i, v := range f {
		if r := a.objectives[i].Resolution; r > 0 {
			d := v/r - math.Floor(v/r)
			sum += d * d
		}
	}
	return sum
}

// preferred reports whether x is to take the place of y in the box they share: it lies nearer
// to the best corner, as one that dominates the other always does.
func (a *archive) preferred(x, y *member) bool {
	return a.cornerDistance2(x.outcome.F) < a.cornerDistance2(y.outcome.F)
}

// add offers a member and reports whether it was taken.
func (a *archive) add(m *member) bool {
	if !m.feasible {
		return false
	}
	a.box(a.key, m.outcome.F)
	taken := a.addBoxed(m)
	if taken && a.low != nil {
		a.widen(m.outcome.F)
	}
	return taken
}

// widen takes a new member's objectives into the bounds.
func (a *archive) widen(f []float64) {
	for i, v := range f {
		switch {
		case v < a.low[i]:
			a.low[i], a.atLow[i] = v, 1
		case v == a.low[i]:
			a.atLow[i]++
		}
		switch {
		case v > a.high[i]:
			a.high[i], a.atHigh[i] = v, 1
		case v == a.high[i]:
			a.atHigh[i]++
		}
	}
}

// leaves notes that a member goes, with which a bound may go too.
func (a *archive) leaves(m *member) {
	if a.low == nil {
		return
	}
	for i, v := range m.outcome.F {
		if v == a.low[i] {
			a.atLow[i]--
		}
		if v == a.high[i] {
			a.atHigh[i]--
		}
		if a.atLow[i] == 0 || a.atHigh[i] == 0 {
			a.low, a.high = nil, nil
			return
		}
	}
}

func (a *archive) addBoxed(m *member) bool {
	if len(a.objectives) == 2 {
		return a.addSorted(m)
	}
	at, found, beaten := a.tree.Compare(a.key)
	switch found {
	case dominance.Worse:
		return false
	case dominance.Equal:
		return a.replace(at, m)
	}
	slices.Sort(beaten)
	width := len(a.key)
	for _, at := range slices.Backward(beaten) {
		a.tree.Remove(at)
		a.leaves(a.members[at])
		last := len(a.members) - 1
		a.members[at], a.members[last] = a.members[last], nil
		a.members = a.members[:last]
		a.marks[at] = a.marks[last]
		a.marks = a.marks[:last]
		copy(a.values[at*width:(at+1)*width], a.values[last*width:])
		a.values = a.values[:last*width]
	}
	a.members, a.marks, a.values = append(a.members, m), append(a.marks, m.mark()), append(a.values, m.outcome.F...)
	a.tree.Add(a.key)
	return true
}

// replace puts m in place of the member that shares its box if it is to be preferred.
func (a *archive) replace(at int, m *member) bool {
	if !a.preferred(m, a.members[at]) {
		return false
	}
	a.leaves(a.members[at])
	a.members[at], a.marks[at] = m, m.mark()
	copy(a.values[at*len(a.key):], m.outcome.F)
	return true
}

func (a *archive) addSorted(m *member) bool {
	at := sort.Search(len(a.sortedKeys), func(i int) bool { return a.sortedKeys[i][0] >= a.key[0] })
	if at > 0 && a.sortedKeys[at-1][1] <= a.key[1] {
		return false
	}
	if at < len(a.sortedKeys) {
		switch dominance.Compare(a.key, a.sortedKeys[at]) {
		case dominance.Worse:
			return false
		case dominance.Equal:
			return a.replace(at, m)
		}
	}
	end := at
	for end < len(a.sortedKeys) && a.sortedKeys[end][1] >= a.key[1] {
		end++
	}
	for _, m := range a.members[at:end] {
		a.leaves(m)
	}
	a.sortedKeys = slices.Replace(a.sortedKeys, at, end, slices.Clone(a.key))
	a.members = slices.Replace(a.members, at, end, m)
	a.marks = slices.Replace(a.marks, at, end, m.mark())
	a.values = slices.Replace(a.values, at*len(a.key), end*len(a.key), m.outcome.F...)
	return true
}

// thinWhenFull thins an archive that has reached twice its limit.
func (a *archive) thinWhenFull() {
	if len(a.members) >= 2*a.limit {
		a.thin(a.limit)
	}
}

// thin keeps n members, spread as evenly as may be.
func (a *archive) thin(n int) {
	if len(a.members) <= n {
		return
	}
	a.rebuild(subset(a.members, spacing.Spread(points(a.members), n)))
}

// rebuild puts in members none of which dominates another, in their order.
func (a *archive) rebuild(members []*member) {
	a.members, a.marks, a.values, a.sortedKeys = members, a.marks[:0], a.values[:0], nil
	a.low, a.high = nil, nil
	var keys []float64
	if len(members) > 0 && len(a.objectives) != 2 {
		keys = make([]float64, 0, 2*a.limit*len(a.key)) // as many as there will be before it is thinned again
	}
	for _, m := range members {
		a.marks, a.values = append(a.marks, m.mark()), append(a.values, m.outcome.F...)
		a.box(a.key, m.outcome.F)
		if len(a.objectives) == 2 {
			a.sortedKeys = append(a.sortedKeys, slices.Clone(a.key))
		} else {
			keys = append(keys, a.key...)
		}
	}
	a.tree.Load(keys, len(a.key))
}

// bounds returns the least and the largest value of each objective among the members, of which there is one at least; valid
// until a member is added.
func (a *archive) bounds() (low, high []float64) {
	if a.low == nil {
		a.low, a.high = slices.Clone(a.members[0].outcome.F), slices.Clone(a.members[0].outcome.F)
		a.atLow, a.atHigh = make([]int, len(a.low)), make([]int, len(a.low))
		for at := 0; at < len(a.values); at += len(a.low) {
			a.widen(a.values[at : at+len(a.low)])
		}
	}
	return a.low, a.high
}

// refill offers all members again, whose objectives have changed.
func (a *archive) refill() {
	all := a.members
	a.rebuild(nil)
	for _, m := range all {
		a.add(m)
	}
}
