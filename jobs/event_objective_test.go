package jobs

import (
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"forkfront/jobs/process"
	"forkfront/results"
)

// gripJob is a short search with an objective and a limit about events, with more lines.
func gripJob(t *testing.T, folder, more string) string {
	t.Helper()
	job := eventsJob(t, folder, more)
	text := strings.NewReplacer(
		"evaluations: 500", "evaluations: 600, simulations: 10",
		"- {measure: damping_variation_pct, sense: min}", "- {measure: bump_braked_load_pct, sense: min}",
		"constraints:\n", "constraints:\n  - {measure: stop_overshoot_pct, max: 35}\n",
	).Replace(fileText(t, job))
	if err := os.WriteFile(job, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	return job
}

// Measures of events in front.parquet are those that the events of the candidates have when they are simulated again. With one
// worker or two the results are the same to the byte.
func TestSearchForEvents(t *testing.T) {
	t.Parallel()
	job := gripJob(t, t.TempDir(), "keep: all\nevents: front\n")
	dir, one := filepath.Join(t.TempDir(), "two"), filepath.Join(t.TempDir(), "one")
	if code, _, said := command(t, "run", job, "--out", dir, "--workers", "2"); code != process.Done || !strings.Contains(said, "forks simulated") {
		t.Fatalf("exit %d: %s", code, said)
	}
	if code, _, said := command(t, "run", job, "--out", one, "--workers", "1"); code != process.Done {
		t.Fatalf("exit %d: %s", code, said)
	}
	sameResults(t, dir, one)

	front, events := readTable(t, dir, results.FrontFile), readTable(t, dir, results.EventsFile)
	found := map[string][2]float64{} // load and overshoot by candidate
	for row := range events.Rows {
		if events.Null(events.Index("candidate"), row) {
			continue
		}
		id, of := events.Series[events.Index("candidate")].Texts[row], found[events.Series[events.Index("candidate")].Texts[row]]
		switch events.Series[events.Index("event")].Texts[row] {
		case "bump_braked":
			of[0] = events.Series[events.Index("load_pct")].Floats[row]
		case "stop":
			of[1] = events.Series[events.Index("overshoot_pct")].Floats[row]
		}
		found[id] = of
	}
	if front.Rows == 0 {
		t.Fatal("no front")
	}
	for row := range front.Rows {
		id := front.Series[front.Index("candidate")].Texts[row]
		value := func(column string) float64 { return front.Series[front.Index(column)].Floats[row] }
		if load := found[id][0]; load == 0 || value("bump_braked_load_pct") != load || value("objective_bump_braked_load_pct") != load {
			t.Errorf("%s: load %g, in its events %g", id, value("bump_braked_load_pct"), load)
		}
		if over := found[id][1]; value("stop_overshoot_pct") != over || over > 35 || math.Abs(value("outside_stop_overshoot_pct")-(over-35)) > 1e-9 {
			t.Errorf("%s: overshoot %g, in its events %g", id, value("stop_overshoot_pct"), over)
		}
	}
	seen := readTable(t, dir, results.AllFile)
	for row := range seen.Rows {
		status := seen.Series[seen.Index("status")].Texts[row]
		if status == "feasible" || !seen.Null(seen.Index("objective_bump_braked_load_pct"), row) {
			t.Fatalf("row %d: %s, with a value that was not found", row, status)
		}
	}
	var record struct {
		Cases []struct {
			Simulated  int
			Predicted  []struct{ Measure string }
			Telescopic map[string]float64
		}
	}
	if err := json.Unmarshal([]byte(fileText(t, filepath.Join(dir, results.RunFile))), &record); err != nil {
		t.Fatal(err)
	}
	if c := record.Cases[0]; c.Simulated < front.Rows || len(c.Predicted) != 2 || !(c.Telescopic["bump_braked_load_pct"] > 0) {
		t.Errorf("the record has %+v", c)
	}
}

// What cannot be asked of events is said where it is asked.
func TestEventsNotToBeHad(t *testing.T) {
	t.Parallel()
	job := gripJob(t, t.TempDir(), "")
	for from, want := range map[string][2]string{
		"bump_braked_load_pct": {"bump_braked_laod_pct", "did you mean \"bump_braked_load_pct\"?"},
		"budget:":              {"prefer: {drop_travel_pct: 2}\nbudget:", "drop_travel_pct: candidates have a value of it only if it is an objective"},
		"simulations: 10":      {"simulations: 0", "budget.simulations"},
	} {
		bad := filepath.Join(t.TempDir(), "bad.yaml")
		if err := os.WriteFile(bad, []byte(strings.Replace(fileText(t, job), from, want[0], 1)), 0o600); err != nil {
			t.Fatal(err)
		}
		if code, _, said := command(t, "check", bad); code != process.Input || !strings.Contains(said, want[1]) {
			t.Errorf("%s: exit %d: %s", want[0], code, said)
		}
	}
	girder := strings.Replace(fileText(t, "examples/short/girder.yaml"), "objectives:\n", "objectives:\n  - {measure: drop_travel_pct, sense: min}\n", 1)
	bad := filepath.Join(t.TempDir(), "bad.yaml")
	if err := os.WriteFile(bad, []byte(girder), 0o600); err != nil {
		t.Fatal(err)
	}
	if code, _, said := command(t, "check", bad); code != process.Input || !strings.Contains(said, "no ride section is given") {
		t.Errorf("exit %d: %s", code, said)
	}
}
