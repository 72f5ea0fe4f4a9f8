// Package picks turns a front into the few candidates to look at first. It knows tables and what the
// objectives of a search ask for, and nothing about forks.
package picks

import (
	"strings"

	"forkfront/objectives"
	"forkfront/results/table"
)

// Criterion is one objective of the search as people read it, and what ranks the candidates in it. The two
// differ for a band and for "enough": people read the measure, and the search's own number ranks.
type Criterion struct {
	Column int        // what people read
	Better float64    // 1: low is better, -1: high, 0: neither
	Name   string     // of what people read, without its unit
	Note   string     // more about what is asked for, or empty
	Aim    *table.Aim // nil where it is of no objective
	order  int        // the column that ranks
	sign   float64    // 1: its low values are best, -1: its high ones
}

// Criteria lists the objectives of a front. A single objective is followed by the companion measures that have
// values, because nobody chooses a fork by one number.
func Criteria(t *table.Table) []Criterion {
	var all []Criterion
	for i := range t.Columns {
		if c := &t.Columns[i]; c.Kind == table.Float && c.Source == "objective" {
			all = append(all, asMeasure(t, i))
		}
	}
	if len(all) > 1 {
		return all
	}
	for i := range objectives.Measures {
		m := &objectives.Measures[i]
		col := t.Index(m.Name)
		if !m.Companion || !t.Full(col) || len(all) > 0 && all[0].Column == col {
			continue
		}
		if sign := t.Columns[col].Better(); sign != 0 {
			all = append(all, Criterion{Column: col, Better: sign, order: col, sign: sign, Name: t.Columns[col].Label()})
		}
	}
	return all
}

// asMeasure reads an objective as its measure, with the measure's sense. Where a candidate lacks the
// measure, the search's own number has to do, and its name says so.
func asMeasure(t *table.Table, objective int) Criterion {
	c := &t.Columns[objective]
	measure := t.Index(strings.TrimPrefix(c.Name, "objective_"))
	k := Criterion{Column: measure, order: objective, sign: 1, Aim: c.Aim}
	if measure == objective || !t.Full(measure) {
		k.Column, k.Better, k.Aim = objective, 1, nil
		k.Name = c.Label() + ", as minimized by the search"
		if c.Aim != nil && c.Aim.Wants == "band" {
			k.Name = c.Label() + ", distance outside its band"
		}
		return k
	}
	if k.Aim == nil {
		k.Aim = inferAim(&t.Series[objective], &t.Series[measure])
	}
	k.Better, k.Name, k.Note = k.Aim.Better(), t.Columns[measure].Label(), note(k.Aim, t, measure)
	return k
}

// Title is the name with the unit.
func (k *Criterion) Title(t *table.Table) string {
	if unit := t.Columns[k.Column].Unit; unit != "" {
		return k.Name + ", " + unit
	}
	return k.Name
}

// NotedTitle is the title and, in brackets, the note.
func (k *Criterion) NotedTitle(t *table.Table) string {
	if k.Note == "" {
		return k.Title(t)
	}
	return k.Title(t) + " (" + k.Note + ")"
}
