package picks

import (
	"fmt"
	"math"
	"strings"

	"forkfront/results/table"
)

// List is a table of picks in text: a heading for each criterion, and a row for each pick.
type List struct {
	Heads      []string
	Rows       []Entry  // grouped by setting
	Ranking    string   // what the ranks go by
	Mechanisms []string // why some mechanisms have only the best of their own searches on the list
}

// Entry is one row of a List, with a value for each heading.
type Entry struct {
	Telescopic *Reference // of the first row of each setting, where it is known: the fork that its candidates replace
	ID, Why    string
	Values     []string
	Rank       string
	Against    string // the telescopic fork: what is better and what is worse
}

// Pieces are the parts of the candidate's name between which a narrow page may break it.
func (e Entry) Pieces() []string { return strings.SplitAfter(e.ID, "/") }

// NewList puts picks into text.
func NewList(t *table.Table, criteria []Criterion, picks []Pick, prefer Preference, telescopic TelescopicOf) List {
	list := List{Ranking: prefer.ranking(), Mechanisms: leftBehind(t, criteria, picks, prefer)}
	ranked := Rank(t, criteria, prefer)
	for i := range criteria {
		list.Heads = append(list.Heads, criteria[i].NotedTitle(t))
	}
	id := t.Index("candidate")
	told := map[string]bool{}
	for _, p := range picks {
		reference := telescopic.of(t, p.Row)
		row := Entry{ID: fmt.Sprintf("row %d", p.Row), Why: p.Reasons()}
		if !told[p.Setting] && reference != nil {
			told[p.Setting] = true
			row.Telescopic = newReference(t, criteria, p.Setting, reference)
		}
		if id >= 0 {
			row.ID = t.Series[id].Texts[p.Row]
		}
		for _, k := range criteria {
			row.Values = append(row.Values, shown(t.Number(k.Column, p.Row)))
		}
		row.Rank = fmt.Sprint(ranked[p.Row].Rank)
		row.Against = against(t, criteria, p.Row, reference)
		list.Rows = append(list.Rows, row)
	}
	return list
}

// shown is a number in a list.
func shown(v float64) string {
	if math.IsNaN(v) {
		return "–"
	}
	return fmt.Sprintf("%.4g", v+0) // + 0 takes the sign off a zero
}
