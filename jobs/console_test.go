package jobs

import (
	"flag"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"
	"sync/atomic"
	"testing"

	"forkfront/jobs/forks"
	"forkfront/results"
)

var rewriteConsole = flag.Bool("rewrite-console", false, "rewrite the output of the commands in README.md and docs/*.md")

// demoCommand is the command of README.md that runs the demo, into this folder.
const (
	demoCommand = "$ go run . run --out out"
	demoFolder  = "out"
)

// A console block of a page holds commands behind "$ go run . ", each with what it prints on standard
// output. Two endings say more: "| head -N" takes the first lines, "# exit N" is the exit code where
// it is not 0.
var ending = regexp.MustCompile(`^(.*?)(?: \| head -(\d+))?(?: \| sed -n '/([^/]+)/,/([^/]+)/p')?(?:  # exit (\d+))?$`)

// The commands of README.md and of the pages, run page by page in a folder of its own, print what is
// said there.
func TestPagesShowWhatIsPrinted(t *testing.T) {
	t.Parallel()
	pages, err := filepath.Glob("docs/*.md")
	if err != nil {
		t.Fatal(err)
	}
	var commands atomic.Int32
	t.Run("pages", func(t *testing.T) {
		for _, page := range append(pages, "../README.md") {
			t.Run(filepath.Base(page), func(t *testing.T) {
				t.Parallel()
				commands.Add(tour(t, page))
			})
		}
	})
	if n := commands.Load(); n < 10 {
		t.Errorf("%d commands in all pages", n)
	}
}

// tour follows a page and returns how many commands it has.
func tour(t *testing.T, page string) (commands int32) {
	text, err := os.ReadFile(page)
	if err != nil {
		t.Fatal(err)
	}
	path, err := filepath.Abs(page)
	if err != nil {
		t.Fatal(err)
	}
	clone := asCloned(t)
	var now []string
	inside, kept := false, false
	for _, line := range strings.Split(string(text), "\n") {
		switch {
		case line == "```console":
			inside = true
			now = append(now, line)
		case inside && line == "```":
			inside, kept = false, false
			now = append(now, line)
		case inside && line == demoCommand && !ranDemo():
			kept = true
			now = append(now, line)
		case !inside, kept && !strings.HasPrefix(line, "$ "):
			now = append(now, line)
		case strings.HasPrefix(line, "$ "):
			commands++
			kept = false
			now = append(append(now, line), printed(t, clone, line)...)
		}
	}
	comparePictures(t, clone, filepath.Dir(path), string(text))
	fresh := strings.Join(now, "\n")
	if fresh == string(text) {
		return commands
	}
	if !*rewriteConsole {
		t.Errorf("%s is stale; after a look at the difference: go test ./jobs -run Pages -rewrite-console\n%s", page, firstUnlike(string(text), fresh))
	} else if err := os.WriteFile(path, []byte(fresh), 0o644); err != nil {
		t.Fatal(err)
	}
	return commands
}

// picture is a figure of results that the commands of a page leave behind: where it is kept, their folder, and the
// figure's file there.
var picture = regexp.MustCompile(`\]\(((?:jobs/docs/)?pictures/(out|near)-(fork-[a-z0-9-]+\.svg))\)`)

// comparePictures draws the figures that a page shows again and compares them with those kept beside the page.
func comparePictures(t *testing.T, clone, beside, text string) {
	t.Helper()
	drawn := map[string]bool{}
	for _, m := range picture.FindAllStringSubmatch(text, -1) {
		kept, dir, name := filepath.Join(beside, m[1]), filepath.Join(clone, m[2]), m[3]
		if m[2] == demoFolder && !ranDemo() {
			continue
		}
		if !drawn[dir] {
			draw(t, dir)
			drawn[dir] = true
		}
		fresh := fileText(t, filepath.Join(dir, results.FiguresDir, name))
		switch old, err := os.ReadFile(kept); {
		case err == nil && string(old) == fresh:
		case !*rewriteConsole:
			t.Errorf("%s is not what is drawn (%v); after a look at it: go test ./jobs -run Pages -rewrite-console", kept, err)
		default:
			if err := os.WriteFile(kept, []byte(fresh), 0o644); err != nil {
				t.Fatal(err)
			}
		}
	}
}

// draw draws the figures of a results folder.
func draw(t *testing.T, dir string) {
	t.Helper()
	s, err := forks.Open(dir, io.Discard)
	if err != nil {
		t.Fatal(err)
	}
	folder, err := results.Reopen(dir)
	if err != nil {
		t.Fatal(err)
	}
	defer folder.Close()
	if _, err := folder.WriteFigures(s.Fork); err != nil {
		t.Fatal(err)
	}
}

// asCloned is a folder for the commands of a page, in which the examples are where a clone has them.
func asCloned(t *testing.T) (folder string) {
	t.Helper()
	here, err := os.Getwd()
	if err != nil {
		t.Fatal(err)
	}
	folder = t.TempDir()
	if err := os.Symlink(here, filepath.Join(folder, "jobs")); err != nil {
		t.Fatal(err)
	}
	return folder
}

// printed is what a command prints on standard output.
func printed(t *testing.T, clone, line string) []string {
	t.Helper()
	shell, is := strings.CutPrefix(line, "$ go run . ")
	if !is {
		t.Fatalf("%q: only commands of forkfront are run", line)
	}
	parts := ending.FindStringSubmatch(shell)
	want, _ := strconv.Atoi(parts[5])
	code, out, said := ranOnce(t, clone, strings.Fields(parts[1]))
	if code != want {
		t.Fatalf("%s: exit %d: %s", line, code, said)
	}
	if out == "" {
		return nil
	}
	lines := strings.Split(strings.TrimRight(out, "\n"), "\n")
	if most, err := strconv.Atoi(parts[2]); err == nil && len(lines) > most {
		lines = lines[:most]
	}
	if from, to := parts[3], parts[4]; from != "" {
		has := func(text string) func(string) bool { return func(l string) bool { return strings.Contains(l, text) } }
		lines = lines[max(0, slices.IndexFunc(lines, has(from))):]
		lines = lines[:slices.IndexFunc(lines, has(to))+1]
	}
	return lines
}

// ranOnce runs a command in a folder. A search into a new folder is run once for all the pages and tests that have it; what
// it finds is copied to where the command puts it.
func ranOnce(t *testing.T, clone string, args []string) (code int, out, said string) {
	t.Helper()
	last := len(args) - 2
	if args[0] != "run" || last < 1 || args[last] != "--out" || slices.Contains(args, "--plan") {
		return ranAlike(t, clone, args)
	}
	for i := range args[:last] { // the examples, seen from the folder of this package
		args[i] = strings.TrimPrefix(args[i], "jobs/")
	}
	r := ranExample(t, args[1:last]...)
	if err := os.Rename(r.dir, filepath.Join(clone, args[last+1])); err != nil {
		t.Fatal(err)
	}
	return r.code, strings.ReplaceAll(r.out, r.dir, args[last+1]), r.said
}

// ranAlike is ranIn, once for all pages, for a score of a file that a clone has: it is the same in every folder.
func ranAlike(t *testing.T, clone string, args []string) (code int, out, said string) {
	t.Helper()
	if len(args) != 2 || args[0] != "score" || !strings.HasPrefix(args[1], "jobs/examples/") {
		return ranIn(t, clone, args)
	}
	type printed struct {
		code      int
		out, said string
	}
	run, _ := scoresOfExamples.LoadOrStore(args[1], sync.OnceValue(func() (p printed) {
		p.code, p.out, p.said = ranIn(t, clone, args)
		return p
	}))
	p := run.(func() printed)()
	return p.code, p.out, p.said
}

var scoresOfExamples sync.Map // file → what its score prints

// ranIn runs a command in a folder, which takes a process of its own.
func ranIn(t *testing.T, folder string, args []string) (code int, out, said string) {
	t.Helper()
	program, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	var o, e strings.Builder
	run := exec.Command(program, args...)
	run.Dir, run.Env, run.Stdout, run.Stderr = folder, append(os.Environ(), asProgram+"=1"), &o, &e
	if err := run.Run(); err != nil && run.ProcessState == nil {
		t.Fatal(err)
	}
	return run.ProcessState.ExitCode(), o.String(), e.String()
}

// firstUnlike is the first line in which two texts differ.
func firstUnlike(said, fresh string) string {
	x, y := strings.Split(said, "\n"), strings.Split(fresh, "\n")
	for i := range min(len(x), len(y)) {
		if x[i] != y[i] {
			return "says:   " + x[i] + "\nprints: " + y[i]
		}
	}
	return "one is longer than the other"
}
