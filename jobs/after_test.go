package jobs

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"forkfront/jobs/process"
	"forkfront/objectives/simulation"
	"forkfront/results"
	"forkfront/results/record"
	"forkfront/results/table"
)

// afterJob is a job with a limit on the load variation on a braked bump, for the front after the search.
func afterJob(t *testing.T, limit, more string) string {
	t.Helper()
	job := eventsJob(t, t.TempDir(), more)
	text := strings.Replace(fileText(t, job), "budget:", "  - {measure: bump_braked_load_pct, "+limit+", after: true}\nbudget:", 1)
	if err := os.WriteFile(job, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	return job
}

// A limit on an event splits the front that the search finds without it: what is within is reported, the rest is in dropped.parquet
// and, with all that was evaluated, in candidates.parquet with the reason. The record counts both.
func TestLimitsOnEvents(t *testing.T) {
	t.Parallel()
	all, dir := filepath.Join(t.TempDir(), "all"), filepath.Join(t.TempDir(), "within")
	if code, _, said := command(t, "run", eventsJob(t, t.TempDir(), "keep: all\nevents: front\n"), "--out", all); code != process.Done {
		t.Fatalf("exit %d: %s", code, said)
	}
	loads := braked(t, all)
	sorted := make([]float64, 0, len(loads))
	for _, v := range loads {
		sorted = append(sorted, v)
	}
	slices.Sort(sorted)
	limit := sorted[len(sorted)/2]
	within := map[string]bool{}
	for id, v := range loads {
		within[id] = v <= limit
	}
	code, out, said := command(t, "run", afterJob(t, fmt.Sprintf("max: %v", limit), "keep: all\n"), "--out", dir)
	if code != process.Done || !strings.Contains(out, "dropped after the search, outside bump braked load") {
		t.Fatalf("exit %d: %s%s", code, out, said)
	}
	front, dropped, seen := readTable(t, dir, results.FrontFile), readTable(t, dir, results.DroppedFile), readTable(t, dir, results.AllFile)
	for _, x := range []struct {
		of *table.Table
		in bool
	}{{front, true}, {dropped, false}} {
		for _, id := range x.of.Series[x.of.Index("candidate")].Texts {
			if in, known := within[id]; !known || in != x.in {
				t.Errorf("%s, with %g %%, is in the wrong table", id, loads[id])
			}
		}
	}
	if front.Rows+dropped.Rows != len(loads) || front.Rows == 0 || dropped.Rows == 0 {
		t.Errorf("%d + %d candidates of %d", front.Rows, dropped.Rows, len(loads))
	}
	if got := braked(t, dir); len(got) != len(loads) {
		t.Errorf("events of %d candidates", len(got))
	}
	status := 0
	for row, id := range seen.Series[seen.Index("candidate")].Texts {
		in, known := within[id]
		if out := known && !in; out != (seen.Series[seen.Index("status")].Texts[row] == "dropped") {
			t.Errorf("%s is %s", id, seen.Series[seen.Index("status")].Texts[row])
		} else if out {
			status++
			if why := seen.Series[seen.Index("reason")].Texts[row]; why != "bump_braked_load_pct" {
				t.Errorf("%s is dropped for %q", id, why)
			}
		}
	}
	run, err := record.Read(filepath.Join(dir, results.RunFile))
	if err != nil || status != dropped.Rows || run.Cases[0].Dropped["bump_braked_load_pct"] != dropped.Rows || run.Cases[0].Front != front.Rows {
		t.Errorf("%v: %d dropped, %v counted, %d kept", err, status, run.Cases[0].Dropped, run.Cases[0].Front)
	}
	if page := fileText(t, filepath.Join(dir, results.ReportFile)); !strings.Contains(page, fmt.Sprintf("dropped after the search: bump braked load (%d)", dropped.Rows)) {
		t.Error("the report does not tell what was dropped")
	}
}

// braked is the load variation on a braked bump by candidate.
func braked(t *testing.T, dir string) map[string]float64 {
	t.Helper()
	events, all := readTable(t, dir, results.EventsFile), map[string]float64{}
	for row := range events.Rows {
		if events.Series[events.Index("event")].Texts[row] == simulation.Events[simulation.BrakedBump].Name && !events.Null(events.Index("candidate"), row) {
			all[events.Series[events.Index("candidate")].Texts[row]] = events.Number(events.Index("load_pct"), row)
		}
	}
	return all
}

// A limit that no candidate of the front meets leaves none, says so, and keeps all of them.
func TestLimitsThatDropAll(t *testing.T) {
	t.Parallel()
	dir := filepath.Join(t.TempDir(), "out")
	code, _, said := command(t, "run", afterJob(t, "max: 1", ""), "--out", dir)
	if code != process.Nothing {
		t.Fatalf("exit %d: %s", code, said)
	}
	dropped := readTable(t, dir, results.DroppedFile)
	if n := len(braked(t, dir)); n != dropped.Rows || n == 0 {
		t.Errorf("%d dropped, events of %d", dropped.Rows, n)
	}
	if page := fileText(t, filepath.Join(dir, results.ReportFile)); !strings.Contains(page, "all candidates of its front are outside limits on events") {
		t.Error("the report does not say why there is nothing")
	}
}

// A job's limits on events are judged for a concept too.
func TestScoreJudgesLimitsOnEvents(t *testing.T) {
	t.Parallel()
	code, out, said := command(t, "score", "examples/trail-girder.yaml", "--job", afterJob(t, "max: 50", ""))
	if code != process.Done {
		t.Fatalf("exit %d: %s", code, said)
	}
	says(t, out, "violated constraint, bump braked load (bump_braked_load_pct): 104.9 %; allowed is at most 50 %")
}
