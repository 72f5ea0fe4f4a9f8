package tables

import (
	"errors"
	"fmt"
	"maps"
	"math"
	"slices"

	"golang.org/x/sync/errgroup"

	"forkfront/jobs/cases"
	"forkfront/jobs/store"
	"forkfront/objectives"
	"forkfront/objectives/naming"
	"forkfront/optimize"
	"forkfront/results"
	"forkfront/results/table"
)

// frontField is a column of the front and how a candidate fills it.
type frontField struct {
	column table.Column
	set    func(w *table.Writer, col int, r *frontRow)
}

// frontRow is one candidate: its variables and its scores.
type frontRow struct {
	run       string // name of the run
	c         *cases.Case
	candidate *optimize.Candidate
	score     *objectives.Score
	curves    [][]float64 // in the order of objectives.Curves; empty where the fork has none
	best      bool        // on the front of its bike
	dropped   string      // quantities of events for which it is not reported
}

// id joins the rows of a candidate across the files.
func (r *frontRow) id() string { return candidateID(r.c, r.candidate) }

func candidateID(c *cases.Case, candidate *optimize.Candidate) string {
	return fmt.Sprintf("%s/%d", c.Name, candidate.Number)
}

func text(name, doc string, of func(*frontRow) string) frontField {
	return frontField{table.Column{Name: name, Doc: doc, Kind: table.Text}, func(w *table.Writer, col int, r *frontRow) { w.Text(col, of(r)) }}
}

// identity are the columns that identify a candidate.
var identity = []frontField{
	{results.RunColumn, func(w *table.Writer, col int, r *frontRow) { w.Text(col, r.run) }},
	text("candidate", "case and the order in which the candidate was proposed", (*frontRow).id),
	text("case", "bike, mechanism or concept, other swept values, and seed", func(r *frontRow) string { return r.c.Name }),
	text("bike", "bike", func(r *frontRow) string { return r.c.Bike }),
	{
		table.Column{Name: "package", Doc: "package, by its name in the job; NULL if it has none", Kind: table.Text, Optional: true},
		func(w *table.Writer, col int, r *frontRow) {
			if r.c.Package == "" {
				w.Null(col)
			} else {
				w.Text(col, r.c.Package)
			}
		},
	},
	text("mechanism", "mechanism", func(r *frontRow) string { return r.c.Mechanism.Name }),
	{table.Column{Name: "seed", Doc: "seed of the job", Kind: table.Int}, func(w *table.Writer, col int, r *frontRow) { w.Int(col, int64(r.c.Seed)) }},
}

// bikeFront tells whether a candidate is not dominated by any other for its bike.
var bikeFront = frontField{
	table.Column{Name: "on_bike_front", Doc: "not dominated by any candidate of any mechanism or seed for the same bike", Kind: table.Bool},
	func(w *table.Writer, col int, r *frontRow) { w.Bool(col, r.best) },
}

// chosen are the columns of a candidate's discrete choices, by name.
var chosen = []frontField{
	text(cases.ColumnShock, "selected shock", func(r *frontRow) string { return r.c.ShockOf(r.candidate.X).Name }),
	text(cases.ColumnMaterial, "material of the tubes", func(r *frontRow) string { return r.c.MaterialOf(r.candidate.X).Name }),
}

// frontFields are all columns: identity, variables of any case, measures, objectives, constraints.
func frontFields(found []store.Found) []frontField {
	fields := append(slices.Clone(identity), bikeFront)
	fields = append(fields, chosen...)
	placed := placedFields(found)
	for _, name := range variableNames(found) {
		if !slices.ContainsFunc(placed, func(f frontField) bool { return f.column.Name == name }) {
			fields = append(fields, variableField(name))
		}
	}
	fields = append(fields, placed...)
	for i := range objectives.Measures {
		fields = append(fields, measureField(i))
	}
	if len(found) > 0 { // one job: all its cases are about the same events
		for _, i := range found[0].Case.EventMeasures() {
			fields = append(fields, measureField(i))
		}
	}
	fields = append(fields, contactFields()...)
	if len(found) > 0 { // one job: the goals of all its cases are the same
		for i := range found[0].Case.Goals {
			fields = append(fields, goalField(i, &found[0].Case.Goals[i]))
		}
	}
	for _, measure := range limited(found) {
		fields = append(fields, limitField(measure, found))
	}
	return fields
}

// limited lists the measures that any of the cases limits.
func limited(found []store.Found) (measures []int) {
	for _, f := range found {
		for i := range f.Case.Limits {
			if m := f.Case.Limits[i].Measure; !slices.Contains(measures, m) {
				measures = append(measures, m)
			}
		}
	}
	return measures
}

// variableField is NULL for a mechanism that has no such variable.
func variableField(name string) frontField {
	column := table.Column{Name: name, Unit: naming.Unit(name), Kind: table.Float, Optional: true, Doc: "variable of the search", Source: "variable"}
	return frontField{column, func(w *table.Writer, col int, r *frontRow) {
		if k := r.c.Variable(name); k >= 0 {
			w.Float(col, r.c.Free[k].Value(r.candidate.X[k]))
		} else {
			w.Null(col)
		}
	}}
}

func measureField(i int) frontField {
	m := objectives.At(i)
	column := table.Column{Name: m.Name, Unit: m.Unit, Doc: m.Doc, Sense: string(m.Sense), Kind: table.Float, Optional: true, Source: "measure"}
	return frontField{column, func(w *table.Writer, col int, r *frontRow) {
		if r.score.Missing[i] == "" {
			w.Float(col, r.score.Values[i])
		} else {
			w.Null(col)
		}
	}}
}

func goalField(i int, g *objectives.Goal) frontField {
	m := objectives.At(g.Measure)
	column := table.Column{Name: "objective_" + m.Name, Unit: m.Unit, Doc: "objective as minimized by the search: " + m.Doc, Sense: "low", Kind: table.Float, Source: "objective", Aim: results.AimOf(g)}
	return frontField{column, func(w *table.Writer, col int, r *frontRow) { w.Float(col, r.candidate.F[i]) }}
}

// limitField is NULL for a case that does not limit the measure, and for a candidate to which the limit does not
// apply.
func limitField(measure int, all []store.Found) frontField {
	m := objectives.At(measure)
	column := table.Column{Name: "outside_" + m.Name, Unit: m.Unit, Doc: "distance outside its limits; negative values are the margin: " + m.Doc, Kind: table.Float, Source: "constraint"}
	if measure == objectives.Clearance {
		column.Doc += "; where parts reach through each other, more by how far they would have to be moved apart in side view"
	}
	column.Optional = slices.ContainsFunc(all, func(f store.Found) bool {
		i := f.Case.LimitOn(measure)
		return i < 0 || f.Case.MayBeWaived(i)
	})
	return frontField{column, func(w *table.Writer, col int, r *frontRow) {
		if i := r.c.LimitOn(measure); i >= 0 && !r.c.Waived(i, r.c.ShockOf(r.candidate.X).Air != nil) {
			w.Float(col, r.candidate.G[1+i]*m.Scale)
		} else {
			w.Null(col)
		}
	}}
}

// writeFront writes one row per candidate to one table, and one row per candidate and travel step to the
// other. Every candidate is scored again, once. The front has the SHA-256 of the cases.yaml beside it.
func writeFront(front, curves string, all []store.Found, sv *Summary, meta map[string]string, casesSum string, processors int) error {
	fields := frontFields(all)
	columns := make([]table.Column, len(fields))
	for i := range fields {
		columns[i] = fields[i].column
	}
	w, err := table.Create(front, columns, withSeal(meta, casesSum))
	if err != nil {
		return fmt.Errorf("write %s: %w", front, err)
	}
	defer w.Abort()
	steps, err := table.Create(curves, curveColumns(), meta)
	if err != nil {
		return fmt.Errorf("write %s: %w", curves, err)
	}
	defer steps.Abort()
	err = eachScored(all, sv, processors, func(r *frontRow) error {
		for col := range fields {
			fields[col].set(w, col, r)
		}
		return errors.Join(w.EndRow(), writeSteps(steps, r))
	})
	if err == nil {
		var both errgroup.Group
		both.SetLimit(processors)
		both.Go(w.Close)
		both.Go(steps.Close)
		err = both.Wait()
	}
	if err != nil {
		return fmt.Errorf("write the front and its curves: %w", err)
	}
	return nil
}

// withSeal adds the SHA-256 of the cases.yaml that a table needs to become forks again.
func withSeal(meta map[string]string, casesSum string) map[string]string {
	with := maps.Clone(meta)
	with[store.CasesSeal] = casesSum
	return with
}

func curveColumns() []table.Column {
	columns := []table.Column{identity[0].column, identity[1].column}
	for i := range objectives.Curves {
		c := &objectives.Curves[i]
		columns = append(columns, table.Column{Name: c.Name, Unit: c.Unit, Doc: c.Doc, Kind: table.Float, Optional: true})
	}
	return columns
}

// writeSteps writes the travel steps of one candidate.
func writeSteps(w *table.Writer, r *frontRow) error {
	for i := range r.c.Conditions.Samples {
		w.Text(0, r.run)
		w.Text(1, r.id())
		for k, values := range r.curves {
			if i < len(values) {
				w.Float(2+k, shortened(values[i]))
			} else {
				w.Null(2 + k)
			}
		}
		if err := w.EndRow(); err != nil {
			return err
		}
	}
	return nil
}

// shortened rounds a value of a curve to 32 bits, within 1.2e-10 of it: the motion is solved no closer, and bits that are
// noise do not compress.
func shortened(v float64) float64 {
	const dropped = 52 - 32
	return math.Float64frombits((math.Float64bits(v) + 1<<(dropped-1)) &^ (1<<dropped - 1))
}

// variableNames are the variables of all cases that are numbers, sorted. The choices of a shock and of a material are not
// among them: they have columns with their names.
func variableNames(all []store.Found) []string {
	var names []string
	for _, f := range all {
		for i := range f.Case.Free {
			if k := f.Case.Free[i].Kind; k != cases.FreeShock && k != cases.FreeMaterial {
				names = append(names, f.Case.Free[i].Variable.Name)
			}
		}
	}
	slices.Sort(names)
	return slices.Compact(names)
}
