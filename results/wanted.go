package results

import (
	"math"
	"strings"
)

// want is one objective of the search as people read it, and what ranks the candidates in it. The two
// differ for a band and for "enough": people read the measure, and the search's own number ranks.
type want struct {
	col    int     // what people read
	better float64 // 1: low is better, -1: high, 0: neither
	order  int     // the column that ranks
	sign   float64 // 1: its low values are best, -1: its high ones
	name   string  // of what people read, without its unit
	note   string  // more about what is wanted, or empty
	aim    *Aim    // nil where no objective speaks of what people read
}

// beside are the measures that stand beside a single objective, for nobody chooses a fork by one number.
var beside = []string{"path_straightness_mm", "trail_variation_mm", "brake_dive_mm", "clearance_mm", "mass_g"}

// wantedOf lists the objectives of a front; a single one, and those of beside that there are.
func wantedOf(t *Table) []want {
	var all []want
	for i := range t.Columns {
		if c := &t.Columns[i]; c.Kind == Float && c.Source == "objective" {
			all = append(all, t.plainly(i))
		}
	}
	if len(all) > 1 {
		return all
	}
	for _, name := range beside {
		col := t.Index(name)
		if !t.full(col) || len(all) > 0 && all[0].col == col {
			continue
		}
		if sign := t.Columns[col].better(); sign != 0 {
			all = append(all, want{col: col, better: sign, order: col, sign: sign, name: label(&t.Columns[col])})
		}
	}
	return all
}

// better is 1 where low is better, -1 where high is, and 0 where neither is.
func (c *Column) better() float64 {
	switch c.Sense {
	case "low", "min":
		return 1
	case "high", "max":
		return -1
	}
	return 0
}

// plainly reads an objective as its measure, with the measure's better way. Where a candidate lacks the
// measure, the search's own number has to do, and its name says so.
func (t *Table) plainly(objective int) want {
	c := &t.Columns[objective]
	measure := t.Index(strings.TrimPrefix(c.Name, "objective_"))
	w := want{col: measure, order: objective, sign: 1, aim: c.Aim}
	if measure == objective || !t.full(measure) {
		w.col, w.better, w.aim = objective, 1, nil
		w.name = label(c) + ", as the search makes it small"
		if c.Aim != nil && c.Aim.Wants == "band" {
			w.name = label(c) + ", distance outside its band"
		}
		return w
	}
	if w.aim == nil {
		w.aim = readAim(&t.Series[objective], &t.Series[measure])
	}
	w.better, w.name, w.note = w.aim.better(), label(&t.Columns[measure]), w.aim.note(t, measure)
	return w
}

// full tells whether there is such a column and every row has a number in it.
func (t *Table) full(col int) bool {
	if col < 0 || t.Columns[col].Kind != Float {
		return false
	}
	for row := range t.Rows {
		if t.Null(col, row) {
			return false
		}
	}
	return true
}

// title is the name with the unit.
func (w *want) title(t *Table) string {
	if unit := t.Columns[w.col].Unit; unit != "" {
		return w.name + ", " + unit
	}
	return w.name
}

// notedTitle is the title and, in brackets, the note.
func (w *want) notedTitle(t *Table) string {
	if w.note == "" {
		return w.title(t)
	}
	return w.title(t) + " (" + w.note + ")"
}

// number is a value, or NaN for NULL, for comparisons in here.
func (t *Table) number(col, row int) float64 {
	if t.Null(col, row) {
		return math.NaN()
	}
	return t.Series[col].Floats[row]
}
