package tables

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"forkfront/jobs/files"
	"forkfront/jobs/store"
	"forkfront/objectives/simulation"
	"forkfront/optimize"
	"forkfront/results"
	"forkfront/results/display"
	"forkfront/results/table"
)

// Dropped are candidates of the fronts that are outside limits on events: they are not reported, and lost neither.
type Dropped struct {
	from    []store.Found
	reasons []map[int]string // by case and number of the candidate: the quantities that are outside
}

// HasAfter tells whether a job has limits that apply after the search.
func HasAfter(j *files.JobFile) bool {
	return slices.ContainsFunc(j.Constraints, func(c files.JobConstraint) bool { return c.After })
}

// Drop simulates the fronts of all cases and takes the candidates out of them that are outside limits on events, or of which a
// limited quantity has no value.
func (m *Simulation) Drop(ctx context.Context, limits []files.JobConstraint) (kept []store.Found, dropped *Dropped, err error) {
	kept, dropped = slices.Clone(m.All), &Dropped{from: m.All, reasons: make([]map[int]string, len(m.All))}
	for i := range m.All {
		d, err := m.All[i].Load()
		if err != nil {
			return nil, nil, err
		}
		outcomes, err := m.outcomes(ctx, i, d.Result.Front)
		if err != nil {
			return nil, nil, err
		}
		reasons := map[int]string{}
		for k := range d.Result.Front {
			number := d.Result.Front[k].Number
			o := outcomes[number]
			if outside := outsideOf(limits, &o); outside != "" {
				reasons[number] = outside
			}
		}
		dropped.reasons[i] = reasons
		kept[i].Load = dropped.load(i, false)
	}
	return kept, dropped, nil
}

// outsideOf names the quantities that are outside their limits.
func outsideOf(limits []files.JobConstraint, o *simulation.Results) string {
	var outside []string
	for i := range limits {
		l := &limits[i]
		r, known := simulation.ReadingNamed(l.Measure)
		if !known || !l.After {
			continue
		}
		v, why := r.Of(o)
		if why != "" || l.Min != nil && v < *l.Min || l.Max != nil && v > *l.Max {
			outside = append(outside, l.Measure)
		}
	}
	return strings.Join(outside, "; ")
}

// load loads a case with the candidates of its front that are dropped, or with the others.
func (d *Dropped) load(i int, those bool) func() (*store.DoneCase, error) {
	return func() (*store.DoneCase, error) {
		c, err := d.from[i].Load()
		if err != nil {
			return nil, err
		}
		part := *c
		part.Result.Front = slices.DeleteFunc(slices.Clone(c.Result.Front), func(k optimize.Candidate) bool {
			_, out := d.reasons[i][k.Number]
			return out != those
		})
		part.Record.Front, part.Record.Dropped = len(c.Result.Front)-len(d.reasons[i]), d.counts(i)
		return &part, nil
	}
}

// counts are how many candidates of a case are outside each limit.
func (d *Dropped) counts(i int) map[string]int {
	var all map[string]int
	for _, outside := range d.reasons[i] {
		for _, name := range strings.Split(outside, "; ") {
			if all == nil {
				all = map[string]int{}
			}
			all[name]++
		}
	}
	return all
}

// Count is how many are dropped.
func (d *Dropped) Count() (n int) {
	if d == nil {
		return 0
	}
	for i := range d.reasons {
		n += len(d.reasons[i])
	}
	return n
}

// reason is why a candidate is dropped; empty where it is not.
func (d *Dropped) reason(at, number int) string {
	if d == nil {
		return ""
	}
	return d.reasons[at][number]
}

// WriteDropped writes a row for each candidate that is dropped, with the columns of the front. Where there is none, it writes no file.
func WriteDropped(folder *results.Folder, d *Dropped, run string, processors int) error {
	if d.Count() == 0 {
		return nil
	}
	found := slices.Clone(d.from)
	for i := range found {
		found[i].Load = d.load(i, true)
	}
	path := folder.Path(results.DroppedFile)
	reason := text("dropped_for", "quantities of events that are outside their limits, or have no value", func(r *frontRow) string { return r.dropped })
	fields := append(frontFields(found), reason)
	columns := make([]table.Column, len(fields))
	for i := range fields {
		columns[i] = fields[i].column
	}
	w, err := table.Create(path, columns, map[string]string{"forkfront.caution": display.Caution})
	if err != nil {
		return fmt.Errorf("write %s: %w", path, err)
	}
	defer w.Abort()
	err = eachScored(found, &Summary{Run: run, Best: map[candidateKey]bool{}, Dropped: d}, processors, func(r *frontRow) error {
		for col := range fields {
			fields[col].set(w, col, r)
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
