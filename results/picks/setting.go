package picks

import (
	"strings"

	"forkfront/results/table"
)

// Setting is what a fork is chosen for: a bike, and the space around the fork. Only candidates of the same
// setting compete with each other.
type Setting struct {
	Name string // what tells it from the others: bike, package or bike/package; empty where there is only one
	Rows []int  // of the front
}

// Settings are those of a front, in the order in which they first appear.
func Settings(t *table.Table) []Setting {
	var apart []string // columns that tell settings apart
	for _, name := range []string{"bike", "package"} {
		if len(t.Groups(t.All(), name)) > 1 {
			apart = append(apart, name)
		}
	}
	var all []Setting
	for _, rows := range t.Groups(t.All(), apart...) {
		var words []string
		for _, name := range apart {
			if col := t.Index(name); t.Null(col, rows[0]) {
				words = append(words, "no "+name)
			} else {
				words = append(words, t.Series[col].Texts[rows[0]])
			}
		}
		all = append(all, Setting{strings.Join(words, "/"), rows})
	}
	return all
}
