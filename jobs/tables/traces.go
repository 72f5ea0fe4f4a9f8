package tables

import (
	"context"
	"fmt"
	"slices"

	"forkfront/jobs/store"
	"forkfront/objectives"
	"forkfront/objectives/simulation"
	"forkfront/results"
	"forkfront/results/display"
	"forkfront/results/table"
)

// TraceColumns are those of the table of traces, in order.
func TraceColumns() []table.Column {
	run := results.RunColumn
	run.Doc += "; score: of a concept"
	columns := []table.Column{
		run,
		{Name: "bike", Doc: "bike", Kind: table.Text},
		{Name: "candidate", Doc: "candidate, as in front.parquet, or concept; NULL: the telescopic fork of the bike", Kind: table.Text, Optional: true},
		{Name: "event", Doc: "what the bike goes through: of bumps the one of the height and at the speed given, of rough roads the first", Kind: table.Text},
		{Name: "time_s", Unit: "s", Doc: "time since the beginning", Kind: table.Float},
		{Name: "counts", Doc: "load_pct, airborne_s, the hands and travel_pct of the event are read at this time", Kind: table.Bool},
	}
	for i := range simulation.Channels {
		c := &simulation.Channels[i]
		columns = append(columns, table.Column{Name: c.Name, Unit: c.Unit, Doc: c.Doc, Kind: table.Float})
	}
	return columns
}

// traceChannels is the column of the first channel.
const traceChannels = 6

// TraceWriter writes a table of traces.
type TraceWriter struct {
	w    *table.Writer
	run  string
	path string
}

// CreateTraces begins a table of traces of a run.
func CreateTraces(path, run string) (*TraceWriter, error) {
	w, err := table.Create(path, TraceColumns(), map[string]string{"forkfront.caution": display.Caution})
	if err != nil {
		return nil, fmt.Errorf("write %s: %w", path, err)
	}
	return &TraceWriter{w, run, path}, nil
}

// Add writes the traces of a candidate, or of the telescopic fork where it has no name. Events without a trace have no rows.
func (t *TraceWriter) Add(bike, candidate string, all *simulation.Traces) error {
	for i := range all {
		for row := range all[i].Rows() {
			t.w.Text(0, t.run)
			t.w.Text(1, bike)
			if candidate == "" {
				t.w.Null(2)
			} else {
				t.w.Text(2, candidate)
			}
			t.w.Text(3, simulation.Events[i].Name)
			t.w.Float(4, float64(row)*simulation.TraceStepS)
			t.w.Bool(5, all[i].Counts[row])
			for k := range simulation.Channels {
				t.w.Float(traceChannels+k, shortened(all[i].Values[k][row]))
			}
			if err := t.w.EndRow(); err != nil {
				return fmt.Errorf("write %s: %w", t.path, err)
			}
		}
	}
	return nil
}

// Close gives the table its name.
func (t *TraceWriter) Close() error {
	if err := t.w.Close(); err != nil {
		return fmt.Errorf("write %s: %w", t.path, err)
	}
	return nil
}

// Abort removes what has been written of a table that is not closed.
func (t *TraceWriter) Abort() { t.w.Abort() }

// WriteTraces simulates candidates of the front once more, one run of each event, on the given number of processors, and writes
// them over time, the telescopic fork's before those of each bike. Where no case has events, it writes no file.
func WriteTraces(ctx context.Context, folder *results.Folder, all []store.Found, run, which string, suggested Suggested, processors int) error {
	if which == EventsNone || !Simulated(all) {
		return nil
	}
	if which == EventsFront {
		suggested = nil
	}
	w, err := CreateTraces(folder.Path(results.TracesFile), run)
	if err != nil {
		return err
	}
	defer w.Abort()
	for i, first := range casesWithEvents(all) {
		c := all[i].Case
		if first {
			if err := w.Add(c.Bike, "", c.Conditions.Events.TelescopicTraces()); err != nil {
				return err
			}
		}
		if err := w.addCase(ctx, &all[i], suggested, processors); err != nil {
			return err
		}
	}
	return w.Close()
}

// tracedAtOnce is how many candidates are traced before any is written: each takes about half a megabyte.
const tracedAtOnce = 32

// addCase writes the traces of a case: of the candidates named, or of all where only is nil.
func (t *TraceWriter) addCase(ctx context.Context, f *store.Found, only Suggested, processors int) error {
	front, err := frontOf(f, only)
	if err != nil {
		return err
	}
	traces := make([]simulation.Traces, min(len(front), tracedAtOnce))
	workers, simulators := newRescorers(f.Case, processors), newSimulators(processors)
	for chunk := range slices.Chunk(front, tracedAtOnce) {
		if err := ctx.Err(); err != nil {
			return err
		}
		shareOut(len(chunk), processors, func(worker, i int) {
			var score objectives.Score
			workers[worker].score(&score, chunk[i].X).Trace(simulators[worker], &traces[i], &score)
		})
		for i := range chunk {
			if err := t.Add(f.Case.Bike, candidateID(f.Case, &chunk[i]), &traces[i]); err != nil {
				return err
			}
		}
	}
	return nil
}
