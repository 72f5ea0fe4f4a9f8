package tables

import (
	"fmt"
	"slices"
	"strings"

	"forkfront/jobs/store"
	"forkfront/objectives"
	"forkfront/results/picks"
	"forkfront/results/table"
)

// nearMiss is one row of the near misses.
type nearMiss struct {
	frontRow
	rank     int      // within its case, from 1
	violates []string // in words
}

// writeNearest writes one row per near miss with all that a candidate of the front has, and the constraints that it
// violates. Where no case has any it writes no file.
func writeNearest(path string, all []store.Found, sv *Summary, meta map[string]string) error {
	if sv.nearest == 0 {
		return nil
	}
	identifying := slices.Concat(identity, chosen)
	var fields []frontField
	for _, f := range frontFields(all) {
		if f.column.Name != bikeFront.column.Name && !slices.ContainsFunc(identifying, func(g frontField) bool { return g.column.Name == f.column.Name }) {
			fields = append(fields, orNothing(f))
		}
	}
	columns := picks.NearestColumns()
	for _, f := range slices.Concat(identifying, fields) {
		columns = append(columns, f.column)
	}
	w, err := table.Create(path, columns, meta)
	if err != nil {
		return fmt.Errorf("write %s: %w", path, err)
	}
	defer w.Abort()
	err = eachNearest(all, sv, func(r *nearMiss) error {
		w.Text(0, picks.NearestName(r.c.Name, r.rank))
		w.Float(1, r.candidate.Violation())
		w.Text(2, strings.Join(r.violates, picks.ViolatedSeparator))
		w.Float(3, r.score.ReachedMM)
		for i, f := range slices.Concat(identifying, fields) {
			f.set(w, 4+i, &r.frontRow)
		}
		return w.EndRow()
	})
	if err == nil {
		err = w.Close()
	}
	if err != nil {
		return fmt.Errorf("write %s: %w", path, err)
	}
	return nil
}

// orNothing is a column that a fork may have no value for: what is an objective or a limit of every candidate of the
// front has none where the fork stops short.
func orNothing(f frontField) frontField {
	if f.column.Source != "objective" && f.column.Source != "constraint" {
		return f
	}
	measure := objectives.Index(strings.TrimPrefix(strings.TrimPrefix(f.column.Name, "objective_"), "outside_"))
	f.column.Optional = true
	set := f.set
	f.set = func(w *table.Writer, col int, r *frontRow) {
		if r.score.Missing[measure] != "" {
			w.Null(col)
			return
		}
		set(w, col, r)
	}
	return f
}

// eachNearest scores the near misses of every case, in order. A row is overwritten by the next.
func eachNearest(all []store.Found, sv *Summary, do func(*nearMiss) error) error {
	for at := range all {
		d, err := all[at].Load()
		if err != nil {
			return err
		}
		c := all[at].Case
		w := rescorer{c: c, designer: c.Designer(), scorer: objectives.NewScorer(c.Conditions)}
		r := nearMiss{frontRow: frontRow{run: sv.Run, score: &objectives.Score{}}}
		for i := range d.Result.Nearest {
			study := w.fill(&r.frontRow, &d.Result.Nearest[i])
			r.rank = i + 1
			r.violates = c.Violated(r.score, c.ShockOf(r.candidate.X).Air != nil, study.Gaps())
			if err := do(&r); err != nil {
				return err
			}
		}
	}
	return nil
}
