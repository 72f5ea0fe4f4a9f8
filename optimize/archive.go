package optimize

import (
	"math"
	"slices"
	"sort"
)

// archive holds the feasible candidates that no other one found dominates, at most one a
// box of resolutions. It may grow to twice its limit before it is thinned.
//
// With two objectives the members are kept in the order of the first, so an insertion
// costs a binary search; otherwise a tree finds those that matter. The order of members
// follows from what was offered alone, not from the tree's shape.
type archive struct {
	objectives []Objective
	limit      int
	members    []*member
	keys       [][]float64 // parallel to members: box numbers, plain values where resolution is 0
	key        []float64
	tree       *region // not with two objectives
	beaten     []int   // members that the one offered dominates
}

func newArchive(objectives []Objective, limit int) *archive {
	return &archive{objectives: objectives, limit: limit, key: make([]float64, len(objectives))}
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

// corner is the squared distance of f from the best corner of its box, in resolutions.
func (a *archive) corner(f []float64) float64 {
	sum := 0.0
	for i, v := range f {
		if r := a.objectives[i].Resolution; r > 0 {
			d := v/r - math.Floor(v/r)
			sum += d * d
		}
	}
	return sum
}

// prefer reports whether x is to take the place of y in the box they share: it lies nearer
// to the best corner, as one that dominates the other always does.
func (a *archive) prefer(x, y *member) bool { return a.corner(x.out.F) < a.corner(y.out.F) }

// add offers a member and reports whether it was taken.
func (a *archive) add(m *member) bool {
	if !m.feasible {
		return false
	}
	a.box(a.key, m.out.F)
	if len(a.objectives) == 2 {
		return a.addSorted(m)
	}
	if a.tree == nil {
		a.plant()
	}
	a.beaten = a.beaten[:0]
	switch at, found := a.tree.compare(a, a.key); {
	case found == worse:
		return false
	case found == equal:
		if a.prefer(m, a.members[at]) {
			a.members[at] = m
			return true
		}
		return false
	}
	slices.Sort(a.beaten)
	for i := len(a.beaten) - 1; i >= 0; i-- {
		a.remove(a.beaten[i])
	}
	a.members, a.keys = append(a.members, m), append(a.keys, slices.Clone(a.key))
	a.tree.insert(a, len(a.members)-1)
	return true
}

// remove takes out a member; the last one takes its place.
func (a *archive) remove(at int) {
	last := len(a.members) - 1
	a.tree.forget(a.keys[at], at, -1)
	if at != last {
		a.tree.forget(a.keys[last], last, at)
	}
	a.members[at], a.keys[at] = a.members[last], a.keys[last]
	a.members[last] = nil
	a.members, a.keys = a.members[:last], a.keys[:last]
}

// plant makes the tree anew from the members.
func (a *archive) plant() {
	a.tree = &region{}
	for i := range a.members {
		a.tree.insert(a, i)
	}
}

func (a *archive) addSorted(m *member) bool {
	at := sort.Search(len(a.keys), func(i int) bool { return a.keys[i][0] >= a.key[0] })
	if at > 0 && a.keys[at-1][1] <= a.key[1] {
		return false
	}
	if at < len(a.keys) {
		switch relation(a.key, a.keys[at]) {
		case worse:
			return false
		case equal:
			if a.prefer(m, a.members[at]) {
				a.members[at] = m
				return true
			}
			return false
		}
	}
	end := at
	for end < len(a.keys) && a.keys[end][1] >= a.key[1] {
		end++
	}
	a.keys = slices.Replace(a.keys, at, end, slices.Clone(a.key))
	a.members = slices.Replace(a.members, at, end, m)
	return true
}

const (
	neither = iota
	superior
	worse
	equal
)

// relation compares two vectors by domination.
func relation(a, b []float64) int {
	less, more := false, false
	for i, v := range a {
		if v < b[i] {
			less = true
		} else if v > b[i] {
			more = true
		}
		if less && more {
			return neither
		}
	}
	switch {
	case less:
		return superior
	case more:
		return worse
	}
	return equal
}

// tidy thins an archive that has reached twice its limit.
func (a *archive) tidy() {
	if len(a.members) >= 2*a.limit {
		a.thin(a.limit)
	}
}

// thin keeps n members, spread as evenly as may be.
func (a *archive) thin(n int) {
	if len(a.members) <= n {
		return
	}
	keep := spread(points(a.members), n)
	members, keys := make([]*member, n), make([][]float64, n)
	for i, k := range keep {
		members[i], keys[i] = a.members[k], a.keys[k]
	}
	a.members, a.keys, a.tree = members, keys, nil
}

// points returns the objective vectors of members.
func points(members []*member) [][]float64 {
	out := make([][]float64, len(members))
	for i, m := range members {
		out[i] = m.out.F
	}
	return out
}
