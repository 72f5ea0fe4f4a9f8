package optimize

import (
	"cmp"
	"maps"
	"slices"
)

// Niched is a Problem whose candidates are of kinds that hardly turn into each other in small steps, as the
// arrangements of a linkage are between which its parts would have to pass through each other. The search keeps
// some of every kind until each has had its chance, and mates candidates of one kind. It is called from the
// goroutine that called Search.
type Niched interface {
	Problem
	Niche(x []float64) uint64
}

const (
	nichesMost  = 4   // that are kept for their own sake, those with feasible members and the least violation first
	nicheShare  = 0.6 // of the population that is shared out among niches, the same for each
	nicheHeld   = 0.3 // share of the budget up to which that is so
	nicheGone   = 0.6 // and from which all members compete with each other
	nicheMating = 0.9 // chance that a child is made from members of its parent's niche only
)

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
	niches := niches(members)
	if len(niches) < 2 {
		return nil, members
	}
	niches = niches[:min(len(niches), nichesMost)]
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
func niches(members []*member) [][]*member {
	groups := map[uint64][]*member{}
	for _, m := range members {
		groups[m.niche] = append(groups[m.niche], m)
	}
	return slices.SortedFunc(maps.Values(groups), func(a, b []*member) int {
		return cmp.Or(
			cmp.Compare(leastViolation(a), leastViolation(b)), cmp.Compare(feasibles(b), feasibles(a)),
			cmp.Compare(a[0].niche, b[0].niche),
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
	within map[uint64]*matingPool // nil where there is one niche
}

func (e *engine) mates(s *matingPool) *mates {
	if _, ok := e.problem.(Niched); !ok || !slices.ContainsFunc(s.parents, func(m *member) bool { return m.niche != s.parents[0].niche }) {
		return &mates{all: s}
	}
	return &mates{s, s.byNiche()}
}

func (t *mates) of(b *breeder, target *member, operator int) *matingPool {
	if t.within == nil || b.rng.Float64() >= nicheMating {
		return t.all
	}
	s := t.within[target.niche]
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

// byNiche is what a stock has of each niche of its parents.
func (s *matingPool) byNiche() map[uint64]*matingPool {
	pools := map[uint64]*matingPool{}
	for _, m := range s.parents {
		if pools[m.niche] == nil {
			pools[m.niche] = &matingPool{}
		}
	}
	share := func(all []*member, list func(*matingPool) *[]*member) {
		var latest *matingPool
		niche := uint64(0)
		for _, m := range all {
			if latest == nil || m.niche != niche {
				latest, niche = pools[m.niche], m.niche
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
