package tables

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"

	"forkfront/objectives"
	"forkfront/objectives/simulation"
	"forkfront/results"
	"forkfront/results/display"
	"forkfront/results/table"
)

// Which candidates of the front are simulated in events.
const (
	EventsNone      = "none"
	EventsShortlist = "shortlist" // those that are suggested
	EventsFront     = "front"     // all
)

// The columns of the table of events that come before the quantities.
const (
	eventRun = iota
	eventBike
	eventCandidate
	eventName
	eventMissing
	eventQuantities // the first of them
)

// eventColumns are those of the table of events, in order.
func eventColumns() []table.Column {
	columns := []table.Column{
		results.RunColumn,
		{Name: "bike", Doc: "bike", Kind: table.Text},
		{Name: "candidate", Doc: "candidate, as in front.parquet or dropped.parquet; NULL: the telescopic fork of the bike", Kind: table.Text, Optional: true},
		{Name: "event", Doc: "what the bike goes through", Kind: table.Text},
		{Name: "missing", Doc: "why quantities of the event have no value; NULL: they have", Kind: table.Text, Optional: true},
	}
	for i := range simulation.Quantities {
		q := &simulation.Quantities[i]
		column := table.Column{Name: q.Name, Unit: q.Unit, Doc: q.Doc, Kind: table.Float, Optional: true}
		if q.Low {
			column.Sense = string(objectives.Low)
		}
		columns = append(columns, column)
	}
	return columns
}

// WriteEvents writes what candidates of the front did in the events of their bike, one row per candidate and event, and the
// telescopic fork's before those of each bike. Where no case has events, it writes no file.
func WriteEvents(ctx context.Context, folder *results.Folder, m *Simulation, run, which string, suggested Suggested) error {
	if which == EventsNone || !Simulated(m.All) {
		return nil
	}
	if which == EventsFront {
		suggested = nil
	}
	path := folder.Path(results.EventsFile)
	w, err := table.Create(path, eventColumns(), map[string]string{"forkfront.caution": display.Caution})
	if err != nil {
		return fmt.Errorf("write %s: %w", path, err)
	}
	defer w.Abort()
	for i, first := range casesWithEvents(m.All) {
		c := m.All[i].Case
		if first {
			if err := eventRows(w, run, c.Bike, "", c.Conditions.Events.Telescopic()); err != nil {
				return fmt.Errorf("write %s: %w", path, err)
			}
		}
		front, err := frontOf(&m.All[i], suggested)
		if err != nil {
			return err
		}
		outcomes, err := m.outcomes(ctx, i, front)
		if err != nil {
			return err
		}
		for k := range front {
			o := outcomes[front[k].Number]
			if err := eventRows(w, run, c.Bike, candidateID(c, &front[k]), &o); err != nil {
				return fmt.Errorf("write %s: %w", path, err)
			}
		}
	}
	if err := w.Close(); err != nil {
		return fmt.Errorf("write %s: %w", path, err)
	}
	return nil
}

// eventRows writes the events of a candidate, or of the telescopic fork where it has no name.
func eventRows(w *table.Writer, run, bike, candidate string, r *simulation.Results) (err error) {
	for i := range r {
		w.Text(eventRun, run)
		w.Text(eventBike, bike)
		if candidate == "" {
			w.Null(eventCandidate)
		} else {
			w.Text(eventCandidate, candidate)
		}
		e, o := &simulation.Events[i], &r[i]
		w.Text(eventName, e.Name)
		var missing []string
		for q := range simulation.Quantities {
			why := o.Known(q)
			if !slices.Contains(e.Has, q) || why != "" {
				w.Null(eventQuantities + q)
			} else {
				w.Float(eventQuantities+q, o.Values[q])
			}
			if why != "" && why != simulation.NotCompared && !slices.Contains(missing, why) {
				missing = append(missing, why)
			}
		}
		if missing == nil {
			w.Null(eventMissing)
		} else {
			w.Text(eventMissing, strings.Join(missing, "; "))
		}
		err = errors.Join(err, w.EndRow())
	}
	return err
}
