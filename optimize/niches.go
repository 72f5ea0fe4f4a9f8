package optimize

import (
	"cmp"
	"maps"
	"slices"
)

// Niched is a Problem whose candidates are of kinds that hardly turn into each other in small steps, as the
// arrangements of a linkage are between which its parts would have to pass through each other. The search keeps
// some of every kind until each has had its chance, and mates candidates of one kind. In a long search, candidates of a
// kind that differ in categorical variables are told apart too. Niche is called from the goroutine that called Search.
type Niched interface {
	Problem
	Niche(x []float64) uint64
}

const (
	nichesMost  = 4       // that are kept for their own sake, those with feasible members and the least violation first
	partsMost   = 12      // the same where a niche is divided by the values of categorical variables, and most combinations of these
	partsFrom   = 200_000 // evaluations from which they are
	nicheShare  = 0.6     // of the population that is shared out among niches, the same for each
	nicheHeld   = 0.3     // share of the budget up to which that is so
	nicheGone   = 0.6     // and from which all members compete with each other
	nicheMating = 0.9     // chance that a child is made from members of its parent's niche only
)

func (e *engine) setKind(m *member, niched Niched) {
	m.kind.niche = niched.Niche(m.x)
	m.kind.part = m.kind.niche
	for i := range e.space.variables {
		if v := &e.space.variables[i]; v.Categorical && v.Levels > 0 {
			m.kind.part = m.kind.part*partFactor + uint64(m.x[i])
		}
	}
}

const partFactor = 0x9e3779b97f4a7c15 // an odd number, 2^64 over the golden ratio, which spreads niches (Knuth, TAOCP 3, 6.4; from memory)

// divides reports whether niches are divided by the values of categorical variables, as the size of a shock. A value that is lost early
// hardly comes back, since all else has to change with it; but in a short search, many niches have too few evaluations each.
func (e *engine) divides() bool {
	if e.horizon() < float64(partsFrom) {
		return false
	}
	combinations := 1
	for i := range e.space.variables {
		if v := &e.space.variables[i]; v.Categorical && v.Levels > 0 {
			combinations *= min(v.Levels, partsMost+1)
			if combinations > partsMost {
				return false
			}
		}
	}
	return combinations > 1
}

// reserved is how many members of a population of n are kept for the sake of their niches.
func (e *engine) reserved(n int) float64 {
	late := (float64(e.used)/e.horizon() - nicheHeld) / (nicheGone - nicheHeld)
	return nicheShare * (1 - min(max(late, 0), 1)) * float64(n)
}

// reserve splits members into those that survive as the best of their niche and the rest.
func (e *engine) reserve(members []*member, n int) (kept, rest []*member) {
	if _, ok := e.problem.(Niched); !ok {
		return nil, members
	}
	divided, most := e.divides(), nichesMost
	if divided {
		most = partsMost
	}
	niches := niches(members, divided)
	if len(niches) < 2 {
		return nil, members
	}
	niches = niches[:min(len(niches), most)]
	each := int(e.reserved(n) / float64(len(niches)))
	if each == 0 {
		return nil, members
	}
	in := make(map[*member]bool, n)
	for _, g := range niches {
		if len(g) > each {
			g = e.best(g, nil, each)
		}
		for _, m := range g {
			in[m] = true
		}
		kept = append(kept, g...)
	}
	return kept, without(members, in)
}

// niches groups members: niches with feasible members come first, the larger one before the smaller one, then
// those that violate least.
func niches(members []*member, divided bool) [][]*member {
	groups := map[uint64][]*member{}
	for _, m := range members {
		key := m.kind.key(divided)
		groups[key] = append(groups[key], m)
	}
	return slices.SortedFunc(maps.Values(groups), func(a, b []*member) int {
		return cmp.Or(
			cmp.Compare(leastViolation(a), leastViolation(b)), cmp.Compare(feasibles(b), feasibles(a)),
			cmp.Compare(a[0].kind.key(divided), b[0].kind.key(divided)),
		)
	})
}

func leastViolation(members []*member) float64 {
	least := members[0].violation
	for _, m := range members {
		least = min(least, m.violation)
	}
	return least
}

func feasibles(members []*member) int {
	n := 0
	for _, m := range members {
		if m.feasible {
			n++
		}
	}
	return n
}

// mates gives the stock for a child of a target: that of its kind as a rule, all of it else or where there
// are too few. Its memory is kept from one generation to the next.
type mates struct {
	all     matingPool
	divided bool
	keys    []uint64     // of the kinds of its parents; none where all are of one
	within  []matingPool // what there is of each
}

// mate prepares the mates of a generation.
func (e *engine) mate() *mates {
	t := &e.mates
	t.all.set(e.population, e.archive.members, e.infeasible)
	t.keys = t.keys[:0]
	if _, ok := e.problem.(Niched); !ok {
		return t
	}
	t.divided = e.divides()
	for _, m := range t.all.parents {
		if key := m.kind.key(t.divided); !slices.Contains(t.keys, key) {
			t.keys = append(t.keys, key)
		}
	}
	if len(t.keys) < 2 {
		t.keys = t.keys[:0]
		return t
	}
	t.divide(e.archive.marks)
	return t
}

// divide shares out all members among the kinds, in their order. Of members of the archive it looks at marks only.
func (t *mates) divide(archive []mark) {
	for len(t.within) < len(t.keys) {
		t.within = append(t.within, matingPool{})
	}
	for k := range t.keys {
		s := &t.within[k]
		s.set(s.parents[:0], s.archive[:0], s.infeasible[:0])
	}
	for _, m := range t.all.parents {
		s := t.of(m.kind)
		s.parents = append(s.parents, m)
	}
	for i := range archive {
		if s := t.of(archive[i].kind); s != nil {
			s.archive = append(s.archive, t.all.archive[i])
		}
	}
	for _, m := range t.all.infeasible {
		if s := t.of(m.kind); s != nil {
			s.infeasible = append(s.infeasible, m)
		}
	}
}

// of is the stock of a kind; nil where no parent is of it.
func (t *mates) of(k kind) *matingPool {
	if i := slices.Index(t.keys, k.key(t.divided)); i >= 0 {
		return &t.within[i]
	}
	return nil
}

func (t *mates) choose(b *breeder, target *member, operator int) *matingPool {
	if len(t.keys) == 0 || b.rng.Float64() >= nicheMating {
		return &t.all
	}
	s := t.of(target.kind)
	if !s.serves(operator) {
		return &t.all
	}
	return s
}

// serves tells whether there are enough members for an operator.
func (s *matingPool) serves(operator int) bool {
	switch operator {
	case operatorNeighbour, operatorPredict, operatorCorrect:
		return len(s.parents) >= 4 && len(s.archive) >= 5
	case operatorSegment:
		return len(s.parents) >= 4 && len(s.archive) > 0 && len(s.infeasible) > 0
	}
	return len(s.parents) >= 4
}
