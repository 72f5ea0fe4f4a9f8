package jobs

import (
	"encoding/json"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"forkfront/jobs/process"
	"forkfront/jobs/score"
	"forkfront/objectives/simulation"
	"forkfront/results"
	"forkfront/results/table"
)

// eventsJob is a short search around a concept with a ride section, with more lines. The concept's duty has no events: to simulate
// those for every candidate of a front takes longer than the search.
func eventsJob(t *testing.T, folder, more string) string {
	t.Helper()
	lines := strings.SplitAfter(fileText(t, "examples/trail-girder.yaml"), "\n")
	kept := slices.DeleteFunc(slices.Clone(lines), func(l string) bool { return strings.HasPrefix(l, "    - {event: ") })
	if len(kept) == len(lines) {
		t.Fatal("the concept's duty has no events")
	}
	concept := filepath.Join(folder, "girder.yaml")
	if err := os.WriteFile(concept, []byte(strings.Join(kept, "")), 0o600); err != nil {
		t.Fatal(err)
	}
	return eventsJobFrom(t, folder, concept, more)
}

// wholeEventsJob is that of the concept with its whole duty, with events and traces of the front.
func wholeEventsJob(t *testing.T, folder string) string {
	t.Helper()
	concept, err := filepath.Abs("examples/trail-girder.yaml")
	if err != nil {
		t.Fatal(err)
	}
	return eventsJobFrom(t, folder, concept, "events: front\ntraces: shortlist\n")
}

// ranWholeEvents is the folder of its results, written by two workers.
func ranWholeEvents(t *testing.T) string {
	t.Helper()
	r := runOnce(t, "whole events", func(folder string) []string {
		return []string{"run", wholeEventsJob(t, folder), "--workers", "2"}
	})
	if r.code != process.Done {
		t.Fatalf("exit %d: %s", r.code, r.said)
	}
	return r.dir
}

func eventsJobFrom(t *testing.T, folder, concept, more string) string {
	t.Helper()
	text := strings.NewReplacer("evaluations: 6000", "evaluations: 500", "front_size: 60", "front_size: 6").Replace(fileText(t, "examples/ride.yaml"))
	job := filepath.Join(folder, "events.yaml")
	text = strings.Replace(text, "concept: trail-girder.yaml", "concept: "+concept, 1) + more
	if err := os.WriteFile(job, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	return job
}

// All candidates of the front go through all events, and the telescopic fork before them. Values are there or a reason is, and
// score tells the same of a candidate.
func TestEventsOfAFront(t *testing.T) {
	t.Parallel()
	dir := ranWholeEvents(t)
	front, events := readTable(t, dir, results.FrontFile), readTable(t, dir, results.EventsFile)
	if front.Rows == 0 || events.Rows != len(simulation.Events)*(front.Rows+1) {
		t.Fatalf("%d rows of events for %d candidates", events.Rows, front.Rows)
	}
	candidate, event, missing := events.Index("candidate"), events.Index("event"), events.Index("missing")
	values := 0
	for row := range events.Rows {
		e := &simulation.Events[row%len(simulation.Events)]
		if events.Series[event].Texts[row] != e.Name || events.Null(candidate, row) != (row < len(simulation.Events)) {
			t.Fatalf("row %d: %s", row, events.Series[event].Texts[row])
		}
		if row >= len(simulation.Events) && events.Series[candidate].Texts[row] != front.Series[front.Index("candidate")].Texts[row/len(simulation.Events)-1] {
			t.Errorf("row %d is of %s", row, events.Series[candidate].Texts[row])
		}
		for q := range simulation.Quantities {
			null := events.Null(events.Index(simulation.Quantities[q].Name), row)
			if !slices.Contains(e.Has, q) && !null {
				t.Errorf("row %d has a value of %s", row, simulation.Quantities[q].Name)
			}
			if !null {
				values++
			} else if slices.Contains(e.Has, q) && events.Null(missing, row) && !events.Null(candidate, row) {
				t.Errorf("row %d lacks %s without a reason", row, simulation.Quantities[q].Name)
			}
		}
	}
	if values < 20*front.Rows {
		t.Errorf("%d values", values)
	}
	scoredAlike(t, dir, events)
}

func readTable(t *testing.T, dir, name string) *table.Table {
	t.Helper()
	tab, err := table.Read(filepath.Join(dir, name))
	if err != nil {
		t.Fatal(err)
	}
	return tab
}

// scoredAlike compares the events of the last candidate of a table with its score as a concept of its own, whose file has
// coordinates to fewer digits.
func scoredAlike(t *testing.T, dir string, events *table.Table) {
	t.Helper()
	id := events.Series[events.Index("candidate")].Texts[events.Rows-1]
	code, concept, said := command(t, "extract", dir, id)
	path := filepath.Join(t.TempDir(), "candidate.yaml")
	if code != process.Done || os.WriteFile(path, []byte(concept), 0o600) != nil {
		t.Fatalf("exit %d: %s", code, said)
	}
	code, out, said := command(t, "score", path, "--json")
	if code != process.Done {
		t.Fatalf("exit %d: %s", code, said)
	}
	var scored score.Scored
	if err := json.Unmarshal([]byte(out), &scored); err != nil {
		t.Fatal(err)
	}
	compared := 0
	for i := range simulation.Events {
		e := &simulation.Events[i]
		row := events.Rows - len(simulation.Events) + i
		for _, q := range e.Has {
			name := simulation.Quantities[q].Name
			col := events.Index(name)
			got := scored.Events[e.Name][name]
			if (got == nil) != events.Null(col, row) {
				t.Errorf("%s %s: one has a value, the other has not", e.Name, name)
				continue
			}
			if got == nil {
				continue
			}
			compared++
			if want := events.Number(col, row); *got < want-0.01-0.01*abs(want) || *got > want+0.01+0.01*abs(want) {
				t.Errorf("%s %s: %g, in the table %g", e.Name, name, *got, want)
			}
		}
	}
	if compared < 20 {
		t.Errorf("%d values compared", compared)
	}
}

func abs(x float64) float64 { return max(x, -x) }

// By default the suggested candidates are simulated; none are where the job says so, and none without a ride section.
func TestWhichCandidatesAreSimulated(t *testing.T) {
	t.Parallel()
	for more, simulated := range map[string]bool{"": true, "events: none\n": false} {
		job, dir := eventsJob(t, t.TempDir(), more), filepath.Join(t.TempDir(), "out")
		if code, _, said := command(t, "run", job, "--out", dir); code != process.Done {
			t.Fatalf("exit %d: %s", code, said)
		}
		if _, err := os.Stat(filepath.Join(dir, results.EventsFile)); (err == nil) != simulated {
			t.Errorf("%q: %v", more, err)
			continue
		}
		if simulated {
			suggested := map[string]bool{}
			list := readTable(t, dir, results.ShortlistFile)
			for _, id := range list.Series[list.Index("candidate")].Texts {
				suggested[id] = true
			}
			events := readTable(t, dir, results.EventsFile)
			if events.Rows != len(simulation.Events)*(len(suggested)+1) {
				t.Errorf("%d rows for %d suggested candidates", events.Rows, len(suggested))
			}
		}
	}
}
