package picks

import (
	"fmt"
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

// alike are rows whose cases differ in nothing but their seed: for a reader they are one search.
type alike struct {
	name string // of the case, without its seed where there are several
	rows []int
}

func alikes(t *table.Table, rows []int) []*alike {
	var all []*alike
	at := map[string]*alike{}
	for _, search := range t.Groups(rows, "case") {
		name := seedless(t, search[0])
		a := at[name]
		if a == nil {
			a = &alike{}
			at[name], all = a, append(all, a)
		}
		switch of := t.Index("case"); {
		case len(a.rows) > 0:
			a.name = name
		case of >= 0:
			a.name = t.Series[of].Texts[search[0]]
		}
		a.rows = append(a.rows, search...)
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
