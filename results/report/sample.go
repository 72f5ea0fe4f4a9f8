package report

import (
	"cmp"
	"slices"

	"forkfront/results/picks"
	"forkfront/results/sideview"
	"forkfront/results/table"
)

// sample lists, in order, the rows that go into the page: all of them if there are no more than most; otherwise the
// picks, and equal numbers from each case, evenly spread over its rows. A case with fewer rows gives all of them.
func sample(t *table.Table, chosen []picks.Pick, most int) []int {
	if t.Rows <= most {
		return t.All()
	}
	var rows []int
	for _, p := range chosen {
		rows = append(rows, p.Row)
	}
	groups := t.Groups(t.All(), "case")
	slices.SortStableFunc(groups, func(a, b []int) int { return cmp.Compare(len(a), len(b)) })
	left := most
	for i, members := range groups {
		n := min(len(members), left/(len(groups)-i)) // what smaller cases do not need is shared by the others
		left -= n
		for k := range n {
			rows = append(rows, members[k*len(members)/n])
		}
	}
	slices.Sort(rows)
	return slices.Compact(rows)
}

// packSample packs the rows of a sample.
func packSample(s *source, rows []int) (texts, error) {
	within := make([]picks.Pick, len(s.chosen))
	for i, p := range s.chosen {
		within[i] = p
		within[i].Row, _ = slices.BinarySearch(rows, p.Row)
	}
	few := *s
	few.front, few.chosen = s.front.Select(rows), within
	if s.forks != nil {
		few.forks = func(row int) (*sideview.Fork, error) { return s.forks(rows[row]) }
	}
	return pack(&few)
}
