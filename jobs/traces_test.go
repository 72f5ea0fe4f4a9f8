package jobs

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"runtime"
	"strings"
	"testing"
	"time"

	"forkfront/jobs/process"
	"forkfront/jobs/tables"
	"forkfront/objectives/simulation"
	"forkfront/results"
	"forkfront/results/table"
)

// A run that is stopped while it simulates keeps what it has simulated: the resumed one says how many candidates that are, and
// ends with the same bytes as one that was not stopped, for any number of workers. Traces of the shortlist follow the same events, the
// telescopic fork's first.
func TestStoppedWhileSimulating(t *testing.T) {
	t.Parallel()
	dir, job, stopped := ranWholeEvents(t), wholeEventsJob(t, t.TempDir()), filepath.Join(t.TempDir(), "stopped")
	front := readTable(t, dir, results.FrontFile)
	code, _, said := interruptedAt(t, time.Hour, "candidates in events", "run", job, "--out", stopped, "--workers", "1")
	if code != process.Unfinished || !strings.Contains(said, "forkfront resume") {
		t.Fatalf("exit %d: %s", code, said)
	}
	if _, err := os.Stat(filepath.Join(stopped, results.EventsFile)); err == nil {
		t.Fatal("the events were written all the same")
	}
	code, _, said = command(t, "resume", stopped, "--workers", "1")
	if want := fmt.Sprintf("simulating %d candidates in events, 4 of them before", front.Rows); code != process.Done || !strings.Contains(said, want) {
		t.Fatalf("exit %d, not %q: %s", code, want, said)
	}
	sameResults(t, dir, stopped)

	traces, list := readTable(t, dir, results.TracesFile), readTable(t, dir, results.ShortlistFile)
	suggested := map[string]bool{}
	for _, id := range list.Series[list.Index("candidate")].Texts {
		suggested[id] = true
	}
	candidate, seen := traces.Index("candidate"), map[string]bool{}
	for row := range traces.Rows {
		id := traces.Series[candidate].Texts[row]
		if !traces.Null(candidate, row) && !suggested[id] {
			t.Fatalf("%s is not suggested", id)
		}
		seen[id+"/"+traces.Series[traces.Index("event")].Texts[row]] = true
	}
	if want := len(simulation.Events) * (len(suggested) + 1); len(seen) != want || !traces.Null(candidate, 0) {
		t.Errorf("%d traces instead of %d", len(seen), want)
	}
}

// Outcomes that were kept and are damaged are reported and simulated again.
func TestDamagedOutcomes(t *testing.T) {
	t.Parallel()
	job, dir := eventsJob(t, t.TempDir(), "events: front\n"), filepath.Join(t.TempDir(), "out")
	if code, _, said := interruptedAt(t, time.Hour, "candidates in events", "run", job, "--out", dir, "--workers", "1"); code != process.Unfinished {
		t.Fatalf("exit %d: %s", code, said)
	}
	path := filepath.Join(dir, results.CheckpointDir, "events-00000.checkpoint")
	text := []byte(fileText(t, path))
	text[len(text)/2] ^= 1
	if err := os.WriteFile(path, text, 0o600); err != nil {
		t.Fatal(err)
	}
	code, _, said := command(t, "resume", dir, "--workers", "1")
	if code != process.Done || !strings.Contains(said, "events-00000.checkpoint is damaged") || strings.Contains(said, "of them before") {
		t.Errorf("exit %d: %s", code, said)
	}
}

// A concept's traces have the columns of a run's, and its events.
func TestScoreWritesTraces(t *testing.T) {
	t.Parallel()
	path := filepath.Join(t.TempDir(), "traces.parquet")
	if code, _, said := command(t, "score", "examples/trail-girder.yaml", "--traces", path); code != process.Done {
		t.Fatalf("exit %d: %s", code, said)
	}
	traces, err := table.Read(path)
	if err != nil {
		t.Fatal(err)
	}
	if columns := tables.TraceColumns(); len(traces.Columns) != len(columns) || !traces.StartsWith(columns) {
		t.Errorf("columns %v", traces.Columns)
	}
	forks := traces.Groups(traces.All(), "candidate")
	if len(forks) != 2 || len(traces.Groups(forks[1], "event")) != len(simulation.Events) || traces.Series[traces.Index("candidate")].Texts[traces.Rows-1] != "trail girder" {
		t.Errorf("%d forks", len(forks))
	}
	step := traces.Number(traces.Index("time_s"), 1) - traces.Number(traces.Index("time_s"), 0)
	if step < simulation.TraceStepS-1e-9 || step > simulation.TraceStepS+1e-9 {
		t.Errorf("a sample every %g s", step)
	}
	code, _, said := command(t, "score", "examples/cargo-girder.yaml", "--traces", path)
	if code != process.Input || !strings.Contains(said, "no ride section") {
		t.Errorf("exit %d: %s", code, said)
	}
}

// The estimate of check includes the events: 1000 candidates at about 0.16 s on each processor are more than the search.
func TestEventsAreEstimated(t *testing.T) {
	estimate := func(more string) time.Duration {
		job := eventsJob(t, t.TempDir(), more)
		text := strings.NewReplacer("evaluations: 500", "evaluations: 50000", "front_size: 6", "front_size: 1000").Replace(fileText(t, job))
		if err := os.WriteFile(job, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		_, _, said := command(t, "check", job)
		found := regexp.MustCompile(`about (\S+) on the`).FindStringSubmatch(said)
		if found == nil {
			t.Fatalf("no estimate: %s", said)
		}
		took, err := time.ParseDuration(found[1])
		if err != nil {
			t.Fatal(err)
		}
		return took
	}
	const events = 160 * time.Second
	none, front := estimate("events: none\n"), estimate("events: front\n")
	if least := none + events/time.Duration(2*runtime.GOMAXPROCS(0)); front < least {
		t.Errorf("%s with events, %s without", front, none)
	}
}
