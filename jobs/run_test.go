package jobs

import (
	"context"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"forkfront/jobs/process"
	"forkfront/results"
)

// command runs one command line in process.
func command(t testing.TB, args ...string) (code int, out, err string) {
	t.Helper()
	var o, e strings.Builder
	code = Main(context.Background(), process.Env{Args: args, In: strings.NewReader(""), Out: &o, Err: &e})
	return code, o.String(), e.String()
}

// The demo as its user runs it: a front of both mechanisms, not written over.
func TestTheDemoGivesAFront(t *testing.T) {
	t.Parallel()
	if !ranDemo() {
		t.Skip("the demo runs with -demo")
	}
	r := demoRun(t)
	one := r.dir
	checkFront(t, filepath.Join(one, "front.parquet"))
	checkShafts(t, filepath.Join(one, "front.parquet"))
	// Its budget is large enough: no front is still growing, and the seeds agree.
	if page := fileText(t, filepath.Join(one, results.ReportFile)); strings.Count(page, "settled: the last fifth of the evaluations added") != 6 || strings.Contains(page, "not settled: ") {
		t.Error("the fronts of the demo have not settled")
	}
	code, _, said := command(t, "run", "--out", one)
	if code != process.Input || strings.Contains(said, "resume") || !strings.Contains(said, "--replace") {
		t.Errorf("a second run on the folder: exit %d, %q", code, said)
	}
}

// The results are the same whatever the workers.
func TestWorkersDoNotChangeTheFront(t *testing.T) {
	t.Parallel()
	job := shortJob(t)
	for workers := 1; workers <= 3; workers += 2 {
		dir := filepath.Join(t.TempDir(), "out")
		want(t, process.Done, "run", job, "--out", dir, "--workers", strconv.Itoa(workers))
		sameResults(t, undisturbed(t, job), dir)
	}
}

func TestUsageEndsInExitTwo(t *testing.T) {
	for _, args := range [][]string{{"run"}, {"run", "none.yaml", "--out", t.TempDir()}, {"nonsense"}, {"score"}, {"score", "none.yaml"}, {"run", "--wrokers", "2"}} {
		if code, out, err := command(t, args...); code != process.Input || err == "" || out != "" {
			t.Errorf("%v: exit %d, %q, %q", args, code, out, err)
		}
	}
}
