package race

import (
	"cmp"
	"slices"
)

// Entry is what a case has come to at the end of a round.
type Entry struct {
	Case      string
	Cover     Cover   // what its front dominates; nil: nothing feasible was found
	Violation float64 // the least that it has seen, where nothing feasible was found
}

// Place is where a case stands at the end of a round.
type Place struct {
	Entry    int    // its index among those given
	Adds     int    // sample points that its front covers beyond those of all before it
	Own      int    // sample points that its front covers
	Coverer  string // of a case that does not go on: the one that goes on and covers most of its sample points; empty: none does
	Coverers int    // sample points of its own that this one covers
	Kept     bool
}

// worth is how much a case must add to those before it, as a part of what all cover together, 1/worth, to go on whatever the others do.
const worth = 100

// Standings puts the entries of a round in order and says which go on, kept of them. First comes the case whose front covers
// most, then always the one that adds most to those before it; of equal ones that with more of its own, then the lesser name. From
// the first on that adds less than 1/worth of what all cover together, they take turns with the cases of which nothing feasible
// was found, those with the least violation first, and such a case is the first to have its turn: one that has just become
// feasible often covers more in the next round than one that has long been covered by others. Neither the order of entries nor
// anything but them matters.
func Standings(entries []Entry, kept int) []Place {
	var found, missed []Place
	joint := 0
	for _, p := range greedy(entries) {
		if entries[p.Entry].Cover == nil {
			missed = append(missed, p)
		} else {
			found = append(found, p)
			joint += p.Adds
		}
	}
	var all []Place
	for len(found) > 0 && worth*found[0].Adds >= joint {
		all, found = append(all, found[0]), found[1:]
	}
	for len(found)+len(missed) > 0 {
		if len(missed) > 0 {
			all, missed = append(all, missed[0]), missed[1:]
		}
		if len(found) > 0 {
			all, found = append(all, found[0]), found[1:]
		}
	}
	for i := range all {
		all[i].Kept = i < kept
	}
	for i := range all {
		if !all[i].Kept {
			all[i].coverer(entries, all)
		}
	}
	return all
}

// greedy puts the entries in the order in which each adds most to those before it, those without anything feasible last.
func greedy(entries []Entry) []Place {
	left := make([]*Place, len(entries))
	for i := range entries {
		left[i] = &Place{Entry: i}
		if c := entries[i].Cover; c != nil {
			left[i].Own = c.Count()
			left[i].Adds = left[i].Own
		}
	}
	var all []Place
	var together Cover
	for len(left) > 0 {
		at := 0
		for k := range left {
			if p := left[k]; together != nil && entries[p.Entry].Cover != nil {
				p.Adds = entries[p.Entry].Cover.Without(together)
			}
			if ahead(entries, left[k], left[at]) {
				at = k
			}
		}
		first := left[at]
		left = slices.Delete(left, at, at+1)
		if c := entries[first.Entry].Cover; c != nil && together == nil {
			together = slices.Clone(c)
		} else if c != nil {
			together.Or(c)
		}
		all = append(all, *first)
	}
	return all
}

// ahead tells whether one case comes before another at this point.
func ahead(entries []Entry, a, b *Place) bool {
	x, y := &entries[a.Entry], &entries[b.Entry]
	if found := x.Cover != nil; found != (y.Cover != nil) {
		return found
	}
	return cmp.Or(cmp.Compare(b.Adds, a.Adds), cmp.Compare(b.Own, a.Own), cmp.Compare(x.Violation, y.Violation), cmp.Compare(x.Case, y.Case)) < 0
}

// coverer finds which of the cases that go on covers most of what a case covers; of equal ones the first.
func (p *Place) coverer(entries []Entry, all []Place) {
	own := entries[p.Entry].Cover
	if own == nil {
		return
	}
	for _, other := range all {
		if c := entries[other.Entry].Cover; other.Kept && c != nil {
			if n := own.And(c); n > p.Coverers {
				p.Coverer, p.Coverers = entries[other.Entry].Case, n
			}
		}
	}
}
