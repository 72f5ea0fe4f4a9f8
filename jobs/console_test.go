package jobs

import (
	"flag"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"forkfront/jobs/forks"
	"forkfront/results"
)

var rewriteConsole = flag.Bool("rewrite-console", false, "rewrite the output of the commands in README.md and docs/*.md")

// A console block of a page holds commands behind "$ go run . ", each with what it prints on standard
// output. Two endings say more: "| head -N" takes the first lines, "# exit N" is the exit code where
// it is not 0.
var ending = regexp.MustCompile(`^(.*?)(?: \| head -(\d+))?(?: \| sed -n '/([^/]+)/,/([^/]+)/p')?(?:  # exit (\d+))?$`)

// The commands of README.md and of the pages, run page by page in a folder of its own, print what is
// said there.
func TestPagesShowWhatIsPrinted(t *testing.T) {
	pages, err := filepath.Glob("docs/*.md")
	if err != nil {
		t.Fatal(err)
	}
	commands := 0
	for _, page := range append(pages, "../README.md") {
		t.Run(filepath.Base(page), func(t *testing.T) { commands += tour(t, page) })
	}
	if commands < 10 {
		t.Errorf("%d commands in all pages", commands)
	}
}

// tour follows a page and returns how many commands it has.
func tour(t *testing.T, page string) (commands int) {
	text, err := os.ReadFile(page)
	if err != nil {
		t.Fatal(err)
	}
	path, err := filepath.Abs(page)
	if err != nil {
		t.Fatal(err)
	}
	leave(t)
	var now []string
	inside := false
	for _, line := range strings.Split(string(text), "\n") {
		switch {
		case line == "```console":
			inside = true
			now = append(now, line)
		case inside && line == "```":
			inside = false
			now = append(now, line)
		case !inside:
			now = append(now, line)
		case strings.HasPrefix(line, "$ "):
			commands++
			now = append(append(now, line), printed(t, line)...)
		}
	}
	comparePictures(t, filepath.Dir(path), string(text))
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
func comparePictures(t *testing.T, beside, text string) {
	t.Helper()
	drawn := map[string]bool{}
	for _, m := range picture.FindAllStringSubmatch(text, -1) {
		kept, dir, name := filepath.Join(beside, m[1]), m[2], m[3]
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

// leave goes to a folder of its own, from which the examples are where a clone has them.
func leave(t *testing.T) {
	t.Helper()
	here, err := os.Getwd()
	if err != nil {
		t.Fatal(err)
	}
	work := t.TempDir()
	if err := os.Symlink(here, filepath.Join(work, "jobs")); err != nil {
		t.Fatal(err)
	}
	t.Chdir(work)
}

// printed is what a command prints on standard output.
func printed(t *testing.T, line string) []string {
	t.Helper()
	shell, is := strings.CutPrefix(line, "$ go run . ")
	if !is {
		t.Fatalf("%q: only commands of forkfront are run", line)
	}
	parts := ending.FindStringSubmatch(shell)
	want, _ := strconv.Atoi(parts[5])
	code, out, said := ranOnce(t, strings.Fields(parts[1]))
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

// ranOnce runs a command. A search into a new folder is run once for all the pages and tests that have it; what it finds
// is copied to where the command puts it.
func ranOnce(t *testing.T, args []string) (code int, out, said string) {
	t.Helper()
	last := len(args) - 2
	if args[0] != "run" || last < 1 || args[last] != "--out" || slices.Contains(args, "--plan") {
		return command(t, args...)
	}
	r := runOnce(t, strings.Join(args[:last], " "), func(string) []string { return args[:last] })
	if err := os.Rename(r.dir, args[last+1]); err != nil {
		t.Fatal(err)
	}
	return r.code, strings.ReplaceAll(r.out, r.dir, args[last+1]), r.said
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
