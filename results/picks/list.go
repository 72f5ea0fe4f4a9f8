package picks

import (
	"fmt"
	"math"
	"strings"

	"forkfront/results/table"
)

// List is a table of picks in text: a heading for each criterion, and a row for each pick.
type List struct {
	Heads []string
	Rows  []Entry
}

// Entry is one row of a List, with a value for each heading.
type Entry struct {
	ID, Why string
	Values  []string
}

// Pieces are the parts of the candidate's name between which a narrow page may break it.
func (e Entry) Pieces() []string { return strings.SplitAfter(e.ID, "/") }

// NewList puts picks into text.
func NewList(t *table.Table, criteria []Criterion, picks []Pick) List {
	var list List
	for i := range criteria {
		list.Heads = append(list.Heads, criteria[i].NotedTitle(t))
	}
	id := t.Index("candidate")
	for _, p := range picks {
		row := Entry{ID: fmt.Sprintf("row %d", p.Row), Why: p.Reasons()}
		if id >= 0 {
			row.ID = t.Series[id].Texts[p.Row]
		}
		for _, k := range criteria {
			shown := "–"
			if v := t.Number(k.Column, p.Row); !math.IsNaN(v) {
				shown = fmt.Sprintf("%.4g", v+0) // + 0 takes the sign off a zero
			}
			row.Values = append(row.Values, shown)
		}
		list.Rows = append(list.Rows, row)
	}
	return list
}
