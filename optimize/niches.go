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

// setNiche finds the niche of a member and the part of it with the same values of categorical variables.
func (e *engine) setNiche(m *member, niched Niched) {
	m.niche = niched.Niche(m.x)
	m.part = m.niche
	for i := range e.space.variables {
		if v := &e.space.variables[i]; v.Categorical && v.Levels > 0 {
			m.part = m.part*partFactor + uint64(m.x[i])
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

// kinds tells members of different kinds apart, by their niches or, where these are divided, by the parts of them, and how many kinds are
// kept for their own sake.
func (e *engine) kinds() (kind func(*member) uint64, most int) {
	if e.divides() {
		return func(m *member) uint64 { return m.part }, partsMost
	}
	return func(m *member) uint64 { return m.niche }, nichesMost
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
	kind, most := e.kinds()
	niches := niches(members, kind)
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
func niches(members []*member, kind func(*member) uint64) [][]*member {
	groups := map[uint64][]*member{}
	for _, m := range members {
		groups[kind(m)] = append(groups[kind(m)], m)
	}
	return slices.SortedFunc(maps.Values(groups), func(a, b []*member) int {
		return cmp.Or(
			cmp.Compare(leastViolation(a), leastViolation(b)), cmp.Compare(feasibles(b), feasibles(a)),
			cmp.Compare(kind(a[0]), kind(b[0])),
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

// mates gives the stock for a child of a target: that of its niche as a rule, all of it else or where there
// are too few.
type mates struct {
	all    *matingPool
	within map[uint64]*matingPool // by kind; nil where there is one
	kind   func(*member) uint64
}

func (e *engine) mates(s *matingPool) *mates {
	if _, ok := e.problem.(Niched); !ok {
		return &mates{all: s}
	}
	kind, _ := e.kinds()
	if !slices.ContainsFunc(s.parents, func(m *member) bool { return kind(m) != kind(s.parents[0]) }) {
		return &mates{all: s}
	}
	return &mates{s, s.byKind(kind), kind}
}

func (t *mates) of(b *breeder, target *member, operator int) *matingPool {
	if t.within == nil || b.rng.Float64() >= nicheMating {
		return t.all
	}
	s := t.within[t.kind(target)]
	if !s.serves(operator) {
		return t.all
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

// byKind is what a stock has of each kind of its parents.
func (s *matingPool) byKind(kind func(*member) uint64) map[uint64]*matingPool {
	pools := map[uint64]*matingPool{}
	for _, m := range s.parents {
		if pools[kind(m)] == nil {
			pools[kind(m)] = &matingPool{}
		}
	}
	share := func(all []*member, list func(*matingPool) *[]*member) {
		var latest *matingPool
		of := uint64(0)
		for _, m := range all {
			if k := kind(m); latest == nil || k != of {
				latest, of = pools[k], k
			}
			if latest != nil {
				some := list(latest)
				*some = append(*some, m)
			}
		}
	}
	share(s.parents, func(p *matingPool) *[]*member { return &p.parents })
	share(s.archive, func(p *matingPool) *[]*member { return &p.archive })
	share(s.infeasible, func(p *matingPool) *[]*member { return &p.infeasible })
	return pools
}
