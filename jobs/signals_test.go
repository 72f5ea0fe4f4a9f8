package jobs

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"runtime/debug"
	"strings"
	"syscall"
	"testing"
	"time"

	"forkfront/results"
)

// asProgram has the test binary stand in for the program, where a test needs a process of its own.
const asProgram = "FORKFRONT_TEST_AS_PROGRAM"

func TestMain(m *testing.M) {
	if os.Getenv(asProgram) != "" {
		os.Exit(Main(Signals(), Env{Args: os.Args[1:], In: os.Stdin, Out: os.Stdout, Err: os.Stderr, Getenv: os.Getenv}))
	}
	debug.SetGCPercent(400) // hundreds of short runs in one process leave more garbage than one run ever does
	code := m.Run()
	if err := os.RemoveAll(sharedRuns.folder); err != nil {
		fmt.Fprintln(os.Stderr, err)
	}
	os.Exit(code)
}

// A terminal that closes during a night hangs up the run and takes its standard error away. The run ends as if
// nobody had been watching.
func TestAClosedTerminalEndsNothing(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	job := jobFile(t, shortDemo("3000"))
	whole, out := undisturbed(t, job), filepath.Join(dir, "out")
	said, terminal, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	run := exec.Command(os.Args[0], "run", job, "--out", out, "--checkpoint-every", "1ms")
	run.Env, run.Stderr = append(os.Environ(), asProgram+"=1"), terminal
	if err := run.Start(); err != nil {
		t.Fatal(err)
	}
	terminal.Close()
	for range 400 { // until the search is at work
		if states, _ := filepath.Glob(filepath.Join(out, "checkpoint", "state-*")); len(states) > 0 {
			break
		}
		time.Sleep(5 * time.Millisecond)
	}
	said.Close()
	if err := run.Process.Signal(syscall.SIGHUP); err != nil {
		t.Fatal(err)
	}
	if err := run.Wait(); err != nil {
		t.Fatalf("a closed terminal ended the run: %v", err)
	}
	for _, name := range []string{results.FrontFile, results.CurvesFile, results.HistoryFile} {
		if fileText(t, filepath.Join(out, name)) != fileText(t, filepath.Join(whole, name)) {
			t.Errorf("%s differs from that of a run that nothing disturbed", name)
		}
	}
}

// Where a folder is asked for and a file is named, the command line is wrong, whichever the verb.
func TestFileInPlaceOfAFolder(t *testing.T) {
	dir := t.TempDir()
	file, plan := filepath.Join(dir, "file"), filepath.Join(dir, "plan")
	if err := os.WriteFile(file, []byte("mine"), 0o600); err != nil {
		t.Fatal(err)
	}
	if code, _, errs := command(t, "plan", "examples/demo.yaml", "--shards", "2", "--out", plan); code != 0 {
		t.Fatalf("exit %d: %s", code, errs)
	}
	for _, args := range [][]string{
		{"run", "--out", file},
		{"run", "--out", filepath.Join(file, "below")},
		{"run", "--plan", plan, "--shard", "0/2", "--out", file},
		{"merge", "--plan", plan, "--out", file},
		{"resume", file},
		{"report", file},
		{"extract", "examples/cargo-girder.yaml", "--out", file},
	} {
		code, _, errs := command(t, args...)
		if code != 2 || !strings.Contains(errs, file+" is a file; expected a folder") {
			t.Errorf("%v: exit %d: %s", args, code, errs)
		}
	}
	if fileText(t, file) != "mine" {
		t.Error("the file was touched")
	}
}
