package rounds

import (
	"fmt"

	"forkfront/results/table"
)

// Row is what a linkage came to in a race, the cases of all seeds together: a row of topologies.parquet. What fronts cover is
// counted at the end of the race; shares are of 1.
type Row struct {
	Linkage     string // names of its cases without the seed
	Mechanism   string
	Code        string // of its topology; empty: it has none
	BuiltIn     string // names of built-in mechanisms of this topology
	Does        string // what its bodies are there for
	Shock       string // bodies that the shock is between
	Solved      string // how its motion is solved
	Cases       int
	Rounds      int // that the case which got farthest was in
	Of          int // all rounds
	Outcome     string
	Evaluations int // of all cases
	Spent       int // evaluations of the case that spent most
	Feasible    int
	Front       int
	Covers      *float64 // of what all cover together; nil: nothing feasible
	Adds        *float64 // to what all others cover; nil: those cover nothing
	BySeed      *float64 // the same of one seed, to one seed of all others
	Control     *float64 // what a further seed of one of the others adds to that at most; nil: one seed
	CoveredBy   string   // of a linkage that was cut: the one that covered most of what it covered then
	Covered     *float64 // the share of that
	Unmet       string   // constraints that the nearest miss violates, where nothing was feasible
	Values      []*float64
}

// Value is a further column: of a measure over the front of a linkage.
type Value struct{ Name, Unit, Doc, Sense string }

type field struct {
	column table.Column
	set    func(w *table.Writer, col int, r *Row)
	get    func(t *table.Table, col, row int, r *Row)
}

func text(name, doc string, at func(*Row) *string) field {
	return field{
		table.Column{Name: name, Doc: doc, Kind: table.Text, Optional: true},
		func(w *table.Writer, col int, r *Row) {
			if v := *at(r); v != "" {
				w.Text(col, v)
			} else {
				w.Null(col)
			}
		},
		func(t *table.Table, col, row int, r *Row) { *at(r) = t.Series[col].Texts[row] },
	}
}

func count(name, doc string, at func(*Row) *int) field {
	return field{
		table.Column{Name: name, Doc: doc, Kind: table.Int},
		func(w *table.Writer, col int, r *Row) { w.Int(col, int64(*at(r))) },
		func(t *table.Table, col, row int, r *Row) { *at(r) = int(t.Series[col].Ints[row]) },
	}
}

func share(name, doc string, at func(*Row) **float64) field {
	return field{
		table.Column{Name: name, Doc: doc, Kind: table.Float, Optional: true},
		func(w *table.Writer, col int, r *Row) { w.FloatOrNull(col, *at(r)) },
		func(t *table.Table, col, row int, r *Row) { *at(r) = valueAt(t, col, row) },
	}
}

func valueAt(t *table.Table, col, row int) *float64 {
	if t.Null(col, row) {
		return nil
	}
	v := t.Series[col].Floats[row]
	return &v
}

// fields is where each column of topologies.parquet is declared, once; further ones follow the objectives.
var fields = []field{
	text("linkage", "linkage: the name of its cases without the seed", func(r *Row) *string { return &r.Linkage }),
	text("mechanism", "mechanism", func(r *Row) *string { return &r.Mechanism }),
	text("topology", "code of its topology, see forkfront topologies; NULL: it has none", func(r *Row) *string { return &r.Code }),
	text("built_in", "built-in mechanisms of this topology", func(r *Row) *string { return &r.BuiltIn }),
	text("does", "what its bodies are there for", func(r *Row) *string { return &r.Does }),
	text("shock_between", "bodies that the shock is between", func(r *Row) *string { return &r.Shock }),
	text("solved", "how its motion is solved", func(r *Row) *string { return &r.Solved }),
	count("cases", "cases, one for each seed", func(r *Row) *int { return &r.Cases }),
	count("rounds", "rounds that the case which got farthest was in", func(r *Row) *int { return &r.Rounds }),
	count("of_rounds", "rounds of the race", func(r *Row) *int { return &r.Of }),
	text("outcome", "cut: none of its cases was in the last round; finished: one was", func(r *Row) *string { return &r.Outcome }),
	count("evaluations", "evaluations of all its cases", func(r *Row) *int { return &r.Evaluations }),
	count("evaluations_of_a_case", "evaluations of the case that spent most", func(r *Row) *int { return &r.Spent }),
	count("feasible", "evaluations that met every constraint", func(r *Row) *int { return &r.Feasible }),
	count("front_size", "candidates of its fronts", func(r *Row) *int { return &r.Front }),
	share("covers_share", "part of what the fronts of all linkages dominate together that its own dominate, 0 to 1; NULL: nothing feasible was found", func(r *Row) **float64 { return &r.Covers }),
	share("adds_share", "by which part it enlarges what the fronts of all other linkages dominate together; NULL: those dominate nothing", func(r *Row) **float64 { return &r.Adds }),
	share("seed_adds_share", "by which part one seed of it enlarges what one seed of all others dominates, on average over the seeds; NULL: the job has one seed", func(r *Row) **float64 { return &r.BySeed }),
	share("control_adds_share", "by which part a further seed of one of the others enlarges that at most, on average over the seeds: what a gain is to be compared with", func(r *Row) **float64 { return &r.Control }),
	text("covered_by", "where it was cut: the case that went on and dominated most of what it dominated", func(r *Row) *string { return &r.CoveredBy }),
	share("covered_share", "the part of it that this one dominated, 0 to 1", func(r *Row) **float64 { return &r.Covered }),
	text("unmet", "where nothing feasible was found: constraints that its nearest miss violates, separated by commas", func(r *Row) *string { return &r.Unmet }),
}

// Columns are those of topologies.parquet after the name of the run.
func Columns(values []Value) (columns []table.Column) {
	for i := range fields {
		columns = append(columns, fields[i].column)
	}
	for _, v := range values {
		columns = append(columns, table.Column{Name: v.Name, Unit: v.Unit, Doc: v.Doc, Sense: v.Sense, Kind: table.Float, Optional: true})
	}
	return columns
}

// WriteRows writes topologies.parquet.
func WriteRows(path, run string, name table.Column, values []Value, rows []Row, meta map[string]string) error {
	columns := append([]table.Column{name}, Columns(values)...)
	err := table.Write(path, columns, meta, len(rows), func(w *table.Writer, row int) {
		r := &rows[row]
		w.Text(0, run)
		for i := range fields {
			fields[i].set(w, 1+i, r)
		}
		for i, v := range r.Values {
			w.FloatOrNull(1+len(fields)+i, v)
		}
	})
	if err != nil {
		return fmt.Errorf("write %s: %w", path, err)
	}
	return nil
}

// Rows reads them back; columns that a table lacks are left empty.
func Rows(t *table.Table) (rows []Row, values []Value) {
	rows = make([]Row, t.Rows)
	for i := range fields {
		if col := t.Index(fields[i].column.Name); col >= 0 {
			for row := range rows {
				fields[i].get(t, col, row, &rows[row])
			}
		}
	}
	known := map[string]bool{}
	for i := range fields {
		known[fields[i].column.Name] = true
	}
	for col := range t.Columns {
		c := &t.Columns[col]
		if col == 0 || known[c.Name] || c.Kind != table.Float {
			continue
		}
		values = append(values, Value{c.Name, c.Unit, c.Doc, c.Sense})
		for row := range rows {
			rows[row].Values = append(rows[row].Values, valueAt(t, col, row))
		}
	}
	return rows, values
}
