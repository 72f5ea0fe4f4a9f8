// Package archive keeps the best candidates that a search has found, tells how they get on, and chooses those that are reported.
package archive

import (
	"math"
	"slices"
	"sort"

	"forkfront/optimize/dominance"
	"forkfront/optimize/population"
	"forkfront/optimize/problem"
	"forkfront/optimize/spacing"
)

// Archive holds the feasible candidates that no other one found dominates, at most one in each
// box of resolutions. It may grow to twice its limit before it is thinned.
//
// With two objectives the members are kept in the order of the first, so an insertion
// costs a binary search; otherwise a tree finds those that matter. The order of members
// follows only from what was offered, not from the tree's shape.
type Archive struct {
	objectives []problem.Objective
	limit      int
	Members    []*population.Member // to be read only
	Marks      []population.Mark    // of the members
	values     []float64            // objectives of the members, one after the other: a look at all of them stays in one place
	sortedKeys [][]float64          // with two objectives: keys of the members
	tree       dominance.Tree       // otherwise: keys of the members, by their places
	key        []float64            // scratch
	low, high  []float64            // of the members' objectives; nil: not known since the last one with the least or the largest value has gone
	atLow      []int                // members with the least value of each objective
	atHigh     []int                // and with the largest
}

// New is an empty archive for some objectives, by whose resolutions it compares.
func New(objectives []problem.Objective, limit int) *Archive {
	return &Archive{objectives: objectives, limit: limit, key: make([]float64, len(objectives))}
}

// below gives the objectives of members that are nowhere beyond a limit, and of some that are. The limit may be lowered while it looks
// for them; visit tells when it has been. Several goroutines may call it.
func (a *Archive) below(limit []float64, visit func(values []float64) (lower bool)) {
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
func (a *Archive) box(key, f []float64) {
	for i, v := range f {
		if r := a.objectives[i].Resolution; r > 0 {
			v = math.Floor(v / r)
		}
		key[i] = v
	}
}

// cornerDistance2 is the squared distance of f from the best corner of its box, in resolutions.
func (a *Archive) cornerDistance2(f []float64) float64 {
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
func (a *Archive) preferred(x, y *population.Member) bool {
	return a.cornerDistance2(x.Outcome.F) < a.cornerDistance2(y.Outcome.F)
}

// Add offers a member and reports whether it was taken.
func (a *Archive) Add(m *population.Member) bool {
	if !m.Feasible {
		return false
	}
	a.box(a.key, m.Outcome.F)
	taken := a.addBoxed(m)
	if taken && a.low != nil {
		a.widen(m.Outcome.F)
	}
	return taken
}

// widen takes a new member's objectives into the bounds.
func (a *Archive) widen(f []float64) {
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
func (a *Archive) leaves(m *population.Member) {
	if a.low == nil {
		return
	}
	for i, v := range m.Outcome.F {
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

func (a *Archive) addBoxed(m *population.Member) bool {
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
		a.leaves(a.Members[at])
		last := len(a.Members) - 1
		a.Members[at], a.Members[last] = a.Members[last], nil
		a.Members = a.Members[:last]
		a.Marks[at] = a.Marks[last]
		a.Marks = a.Marks[:last]
		copy(a.values[at*width:(at+1)*width], a.values[last*width:])
		a.values = a.values[:last*width]
	}
	a.Members, a.Marks, a.values = append(a.Members, m), append(a.Marks, m.Mark()), append(a.values, m.Outcome.F...)
	a.tree.Add(a.key)
	return true
}

// replace puts m in place of the member that shares its box if it is to be preferred.
func (a *Archive) replace(at int, m *population.Member) bool {
	if !a.preferred(m, a.Members[at]) {
		return false
	}
	a.leaves(a.Members[at])
	a.Members[at], a.Marks[at] = m, m.Mark()
	copy(a.values[at*len(a.key):], m.Outcome.F)
	return true
}

func (a *Archive) addSorted(m *population.Member) bool {
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
	for _, m := range a.Members[at:end] {
		a.leaves(m)
	}
	a.sortedKeys = slices.Replace(a.sortedKeys, at, end, slices.Clone(a.key))
	a.Members = slices.Replace(a.Members, at, end, m)
	a.Marks = slices.Replace(a.Marks, at, end, m.Mark())
	a.values = slices.Replace(a.values, at*len(a.key), end*len(a.key), m.Outcome.F...)
	return true
}

// ThinWhenFull thins an archive that has reached twice its limit.
func (a *Archive) ThinWhenFull() {
	if len(a.Members) >= 2*a.limit {
		a.Thin(a.limit)
	}
}

// Thin keeps n members, spread as evenly as may be in their objectives.
func (a *Archive) Thin(n int) {
	if len(a.Members) <= n {
		return
	}
	a.Rebuild(population.Subset(a.Members, spacing.Spread(population.Points(a.Members), n)))
}

// Rebuild puts in members none of which dominates another, in their order.
func (a *Archive) Rebuild(members []*population.Member) {
	a.Members, a.Marks, a.values, a.sortedKeys = members, a.Marks[:0], a.values[:0], nil
	a.low, a.high = nil, nil
	var keys []float64
	if len(members) > 0 && len(a.objectives) != 2 {
		keys = make([]float64, 0, 2*a.limit*len(a.key)) // as many as there will be before it is thinned again
	}
	for _, m := range members {
		a.Marks, a.values = append(a.Marks, m.Mark()), append(a.values, m.Outcome.F...)
		a.box(a.key, m.Outcome.F)
		if len(a.objectives) == 2 {
			a.sortedKeys = append(a.sortedKeys, slices.Clone(a.key))
		} else {
			keys = append(keys, a.key...)
		}
	}
	a.tree.Load(keys, len(a.key))
}

// Bounds returns the least and the largest value of each objective among the members, of which there is one at least; valid
// until a member is added.
func (a *Archive) Bounds() (low, high []float64) {
	if a.low == nil {
		a.low, a.high = slices.Clone(a.Members[0].Outcome.F), slices.Clone(a.Members[0].Outcome.F)
		a.atLow, a.atHigh = make([]int, len(a.low)), make([]int, len(a.low))
		for at := 0; at < len(a.values); at += len(a.low) {
			a.widen(a.values[at : at+len(a.low)])
		}
	}
	return a.low, a.high
}

// Refill offers all members again, whose objectives have changed.
func (a *Archive) Refill() {
	all := a.Members
	a.Rebuild(nil)
	for _, m := range all {
		a.Add(m)
	}
}
