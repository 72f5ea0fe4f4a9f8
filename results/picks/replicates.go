package picks

import (
	"fmt"
	"slices"
	"strings"

	"forkfront/results/table"
)

// Replicates are searches that differ in nothing but their seed: for a reader they are one.
type Replicates struct {
	Name     string  // of the case, without its seed where there are several
	Searches [][]int // rows of each
}

// Rows are those of all searches, one search after the other.
func (r *Replicates) Rows() []int { return slices.Concat(r.Searches...) }

// ReplicatesOf are those of some rows, in the order in which they first appear.
func ReplicatesOf(t *table.Table, rows []int) []*Replicates {
	var all []*Replicates
	at := map[string]*Replicates{}
	of := t.Index("case")
	for _, search := range t.Groups(rows, "case") {
		name := seedless(t, search[0])
		r := at[name]
		switch {
		case r != nil:
			r.Name = name
		case of >= 0:
			r = &Replicates{Name: t.Series[of].Texts[search[0]]}
		default:
			r = &Replicates{}
		}
		if len(r.Searches) == 0 {
			at[name], all = r, append(all, r)
		}
		r.Searches = append(r.Searches, search)
	}
	return all
}

// seedless is the name of a row's case without its seed.
func seedless(t *table.Table, row int) string {
	of, seed := t.Index("case"), t.Index("seed")
	switch {
	case of < 0 || t.Null(of, row):
		return ""
	case seed < 0 || t.Columns[seed].Kind != table.Int:
		return t.Series[of].Texts[row]
	}
	return strings.TrimSuffix(t.Series[of].Texts[row], fmt.Sprintf("/%d", t.Series[seed].Ints[row]))
}
