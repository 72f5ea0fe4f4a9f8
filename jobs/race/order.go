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

// Standings puts the entries of a round in order and says which go on, kept of them. First comes the case whose front covers
// most, then always the one that adds most to those before it; of equal ones that with more of its own, then the smaller
// violation, then the lesser name. Cases without anything feasible come last. Neither the order of entries nor anything but
// them matters.
func Standings(entries []Entry, kept int) []Place {
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
		first.Kept = len(all) < kept
		all = append(all, *first)
	}
	for i := range all {
		if !all[i].Kept {
			all[i].coverer(entries, all)
		}
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
