package optimize

import (
	"cmp"
	"maps"
	"slices"
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
func (s *selection) reserve(members []*member, n int, at stand) (kept, rest []*member) {
	if !s.settings.niched {
		return nil, members
	}
	most := nichesMost
	if at.divided {
		most = partsMost
	}
	niches := niches(members, at.divided)
	if len(niches) < 2 {
		return nil, members
	}
	niches = niches[:min(len(niches), most)]
	each := int(reserved(n, at.done) / float64(len(niches)))
	if each == 0 {
		return nil, members
	}
	in := make(map[*member]bool, n)
	for _, g := range niches {
		if len(g) > each {
			g = s.best(g, nil, each, at.archive)
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
