package results

import (
	"math"
	"strings"
)

// want is one objective of the search as people read it: a column and which way is better.
type want struct {
	col  int
	sign float64 // 1: low is better, -1: high is better
}

// wantedOf lists the objectives of a front. The search's own column objective_X is read as the
// measure X where the two are the same number, or the same with the other sign (then high is better);
// where they are not, as with a band or with "enough", the objective's column stands for itself. With
// fewer than two objectives every number that has a better way comes after them.
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
	for i := range t.Columns {
		c := &t.Columns[i]
		if sign := c.better(); c.Kind == Float && sign != 0 && c.Source != "objective" {
			all = append(all, want{i, sign})
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

// plainly reads an objective's column as its measure's where it says the same.
func (t *Table) plainly(objective int) want {
	measure := t.Index(strings.TrimPrefix(t.Columns[objective].Name, "objective_"))
	if measure < 0 || measure == objective {
		return want{objective, 1}
	}
	for _, sign := range []float64{1, -1} {
		same := t.Rows > 0
		for row := 0; row < t.Rows && same; row++ {
			same = !t.Null(measure, row) && t.Series[objective].Floats[row] == sign*t.Series[measure].Floats[row]
		}
		if same {
			return want{measure, sign}
		}
	}
	return want{objective, 1}
}

// number is a value, or NaN for NULL, for comparisons in here.
func (t *Table) number(col, row int) float64 {
	if t.Null(col, row) {
		return math.NaN()
	}
	return t.Series[col].Floats[row]
}
