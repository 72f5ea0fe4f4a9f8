package tables

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"forkfront/constraints"
	"forkfront/jobs/store"
	"forkfront/objectives"
	"forkfront/optimize"
	"forkfront/results/table"
)

// Values of a job's keep.
const (
	keepFront = "front"
	KeepAll   = "all"
)

// seenFields are the columns of candidates.parquet: what the search knew of each candidate, since no fork is scored
// again.
func seenFields(found []store.Found) []frontField {
	fields := slices.Concat(identity, chosen, stateFields)
	if len(found) > 0 && len(found[0].Case.EventMeasures()) > 0 {
		fields[len(identity)+len(chosen)].column.Doc += "; not simulated: meets all but what is asked of events"
	}
	for _, name := range variableNames(found) {
		fields = append(fields, variableField(name))
	}
	if len(found) == 0 {
		return fields
	}
	for i := range found[0].Case.Goals {
		fields = append(fields, seenGoal(i, &found[0].Case.Goals[i]))
	}
	for _, measure := range limited(found) {
		fields = append(fields, seenLimit(measure, found))
	}
	return fields
}

// stateFields say how a candidate did.
var stateFields = []frontField{
	text("status", "feasible; outside: violates the constraints named in reason; dropped: of the front, outside the limits on events named in reason; fails: does not reach its full travel, needs tubes larger than allowed, or has no value for an objective", func(r *frontRow) string {
		switch {
		case r.dropped != "":
			return "dropped"
		case r.candidate.Feasible():
			return "feasible"
		case r.c.OnlyEventsOpen(r.candidate):
			return "not simulated"
		case r.candidate.G[0] > 0:
			return "fails"
		}
		return "outside"
	}),
	{table.Column{Name: "reason", Doc: "measures of the violated constraints; NULL if there are none", Kind: table.Text, Optional: true}, setBroken},
}

func setBroken(w *table.Writer, col int, r *frontRow) {
	var broken []string
	if r.dropped != "" {
		broken = append(broken, r.dropped)
	}
	for i := range r.c.Limits {
		if m := r.c.Limits[i].Measure; r.candidate.G[1+i] > 0 && !objectives.At(m).OfEvent() {
			broken = append(broken, objectives.At(r.c.Limits[i].Measure).Name)
		}
	}
	if broken == nil {
		w.Null(col)
		return
	}
	w.Text(col, strings.Join(broken, "; "))
}

func seenGoal(i int, g *objectives.Goal) frontField {
	f := goalField(i, g)
	f.column.Optional = true
	f.set = func(w *table.Writer, col int, r *frontRow) {
		if v := r.candidate.F[i]; math.IsInf(v, 0) || math.IsNaN(v) {
			w.Null(col)
		} else {
			w.Float(col, v)
		}
	}
	return f
}

func seenLimit(measure int, all []store.Found) frontField {
	f := limitField(measure, all)
	plain := f.set
	f.column.Optional = true
	f.set = func(w *table.Writer, col int, r *frontRow) {
		if i := r.c.LimitOn(measure); i >= 0 {
			if v := r.candidate.G[1+i]; v == constraints.Missing || math.IsInf(v, 0) || math.IsNaN(v) {
				w.Null(col)
				return
			}
		}
		plain(w, col, r)
	}
	return f
}

// writeCandidates writes one row per evaluated candidate, case after case. It needs the memory of one
// row group.
func writeCandidates(path string, sv *Summary, all []store.Found, meta map[string]string) error {
	fields := seenFields(all)
	columns := make([]table.Column, len(fields))
	for i := range fields {
		columns[i] = fields[i].column
	}
	w, err := table.Create(path, columns, meta)
	if err != nil {
		return fmt.Errorf("write %s: %w", path, err)
	}
	defer w.Abort()
	for at, f := range all {
		d, err := f.Load()
		if err != nil {
			return err
		}
		err = f.Journal.Read(d.Result.Candidates, func(c *optimize.Candidate) error {
			r := frontRow{run: sv.Run, c: f.Case, candidate: c, dropped: sv.Dropped.reason(at, c.Number)}
			for col := range fields {
				fields[col].set(w, col, &r)
			}
			return w.EndRow()
		})
		if err != nil {
			return fmt.Errorf("write %s: %w", path, err)
		}
	}
	if err := w.Close(); err != nil {
		return fmt.Errorf("write %s: %w", path, err)
	}
	return nil
}
