package jobs

import (
	"flag"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"

	"forkfront/jobs/process"
)

// sharedRuns are runs that several tests read: each is made once, and every test gets a copy of its folder.
var sharedRuns = struct {
	sync.Mutex
	folder string // removed by TestMain
	runs   map[string]func() sharedRun
}{runs: map[string]func() sharedRun{}}

type sharedRun struct {
	dir       string
	code      int
	out, said string
}

// runOnce returns a copy of the folder of a run, and what it printed, as if it had written the copy. The key tells runs apart; prepare returns the arguments
// before --out, given a folder for files that have to last as long as the run's results.
func runOnce(t testing.TB, key string, prepare func(folder string) []string) sharedRun {
	t.Helper()
	sharedRuns.Lock()
	if sharedRuns.folder == "" {
		folder, err := os.MkdirTemp("", "runs")
		if err != nil {
			sharedRuns.Unlock()
			t.Fatal(err)
		}
		sharedRuns.folder = folder
	}
	run := sharedRuns.runs[key]
	if run == nil {
		folder, err := os.MkdirTemp(sharedRuns.folder, "run")
		if err != nil {
			sharedRuns.Unlock()
			t.Fatal(err)
		}
		run = sync.OnceValue(func() (r sharedRun) {
			r.dir = filepath.Join(folder, "out")
			r.code, r.out, r.said = command(t, slices.Concat(prepare(folder), []string{"--out", r.dir})...)
			return r
		})
		sharedRuns.runs[key] = run
	}
	sharedRuns.Unlock()
	r := run()
	dir := copyFolder(t, r.dir)
	return sharedRun{dir: dir, code: r.code, out: strings.ReplaceAll(r.out, r.dir, dir), said: r.said}
}

// undisturbed is a copy of the folder of a run, of the job in a file, that nothing stopped.
func undisturbed(t testing.TB, job string) string {
	t.Helper()
	text := fileText(t, job)
	r := runOnce(t, text, func(folder string) []string {
		path := filepath.Join(folder, filepath.Base(job))
		if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
			panic(err)
		}
		return []string{"run", path}
	})
	if r.code != process.Done {
		t.Fatalf("exit %d: %s", r.code, r.said)
	}
	return r.dir
}

// ranExample is a run of the example in a file of this folder, with flags, or of the demo.
func ranExample(t testing.TB, args ...string) sharedRun {
	t.Helper()
	args = append([]string{"run"}, args...)
	return runOnce(t, strings.Join(args, " "), func(string) []string { return args })
}

// doneExample is the folder of a run of it that has a front.
func doneExample(t testing.TB, path string) string {
	t.Helper()
	r := ranExample(t, path)
	if r.code != process.Done {
		t.Fatalf("exit %d: %s", r.code, r.said)
	}
	return r.dir
}

// The demo's search takes as long as a third of all other tests together, so that tests leave it out unless asked.
var withDemo = flag.Bool("demo", false, "have the tests that read the demo's results run it, and not just those of shorter searches")

// ranDemo tells whether the demo is to be run; what is rewritten is rewritten whole.
func ranDemo() bool { return *withDemo || *rewriteReference || *rewriteConsole }

// demoRun is the demo as its user runs it.
func demoRun(t *testing.T) sharedRun {
	t.Helper()
	r := ranExample(t)
	if r.code != process.Done {
		t.Fatalf("exit %d: %s", r.code, r.said)
	}
	return r
}
