package survival

import (
	"cmp"
	"maps"
	"slices"

	"forkfront/optimize/population"
)

const (
	nichesMost = 4   // that are kept for their own sake, those with feasible members and the least violation first; of divided ones partsMost
	nicheShare = 0.6 // of the population that is shared out among niches, the same for each
	nicheHeld  = 0.3 // share of the budget up to which that is so
	nicheGone  = 0.6 // and from which all members compete with each other
)

// reserved is how many members of a population of n are kept for the sake of their niches.
func reserved(n int, done float64) float64 {
	late := (done - nicheHeld) / (nicheGone - nicheHeld)
	return nicheShare * (1 - min(max(late, 0), 1)) * float64(n)
}

// reserve splits members into those that survive as the best of their niche and the rest.
func (s *Selection) reserve(members []*population.Member, n int, at Moment) (kept, rest []*population.Member) {
	if !s.settings.Niched {
		return nil, members
	}
	most := nichesMost
	if at.Divided {
		most = population.MostParts
	}
	niches := niches(members, at.Divided)
	if len(niches) < 2 {
		return nil, members
	}
	niches = niches[:min(len(niches), most)]
	each := int(reserved(n, at.Done) / float64(len(niches)))
	if each == 0 {
		return nil, members
	}
	in := make(map[*population.Member]bool, n)
	for _, g := range niches {
		if len(g) > each {
			g = s.best(g, nil, each, at.Archive)
		}
		for _, m := range g {
			in[m] = true
		}
		kept = append(kept, g...)
	}
	return kept, population.Without(members, in)
}

// niches groups members: niches with feasible members come first, the larger one before the smaller one, then
// those that violate least.
func niches(members []*population.Member, divided bool) [][]*population.Member {
	groups := map[uint64][]*population.Member{}
	for _, m := range members {
		key := m.Kind.Key(divided)
		groups[key] = append(groups[key], m)
	}
	return slices.SortedFunc(maps.Values(groups), func(a, b []*population.Member) int {
		return cmp.Or(
			cmp.Compare(leastViolation(a), leastViolation(b)), cmp.Compare(feasibles(b), feasibles(a)),
			cmp.Compare(a[0].Kind.Key(divided), b[0].Kind.Key(divided)),
		)
	})
}

func leastViolation(members []*population.Member) float64 {
	least := members[0].Violation
	for _, m := range members {
		least = min(least, m.Violation)
	}
	return least
}

func feasibles(members []*population.Member) int {
	n := 0
	for _, m := range members {
		if m.Feasible {
			n++
		}
	}
	return n
}
