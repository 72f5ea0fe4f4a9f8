package jobs

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"io/fs"
	"math/rand/v2"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"forkfront/jobs/files"
	"forkfront/jobs/process"
	"forkfront/jobs/store"
	"forkfront/results"
	"forkfront/results/record"
)

// shortJob is the demo with fewer evaluations, in a file of its own.
func shortJob(t *testing.T) string {
	t.Helper()
	text := shortDemo("1500") + "keep: all\n"
	if !strings.Contains(text, "evaluations: 1500") {
		t.Fatal("the demo states its budget otherwise")
	}
	path := filepath.Join(t.TempDir(), "short.yaml")
	if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	return path
}

// interrupted runs a command line that is stopped after a while.
func interrupted(t *testing.T, after time.Duration, args ...string) (code int, out, said string) {
	t.Helper()
	return interruptedAt(t, after, "", args...)
}

// interruptedAt runs a command line that is stopped as soon as it says something, or else after a while; it does not wait
// for "".
func interruptedAt(t *testing.T, after time.Duration, word string, args ...string) (code int, out, said string) {
	t.Helper()
	ctx, cancel := context.WithTimeout(context.Background(), after)
	defer cancel()
	var o strings.Builder
	e := listener{word: word, heard: cancel}
	code = Main(ctx, process.Env{Args: args, In: strings.NewReader(""), Out: &o, Err: &e})
	return code, o.String(), e.String()
}

// listener keeps what is written to it, and calls heard once a word has been.
type listener struct {
	strings.Builder
	word  string
	heard func()
}

func (l *listener) Write(text []byte) (int, error) {
	n, err := l.Builder.Write(text)
	if l.word != "" && strings.Contains(l.String(), l.word) {
		l.heard()
	}
	return n, err
}

var resultFiles = []string{results.FrontFile, results.CurvesFile, results.HistoryFile}

// optionalFiles are results that not every job asks for.
var optionalFiles = []string{results.AllFile, results.EventsFile, results.TracesFile}

func sameResults(t *testing.T, one, two string) {
	t.Helper()
	for _, name := range append(slices.Clone(resultFiles), optionalFiles...) {
		a, errA := os.ReadFile(filepath.Join(one, name))
		b, errB := os.ReadFile(filepath.Join(two, name))
		if slices.Contains(optionalFiles, name) && errors.Is(errA, fs.ErrNotExist) && errors.Is(errB, fs.ErrNotExist) {
			continue // the job does not ask for them
		}
		if errA != nil || errB != nil || !bytes.Equal(a, b) {
			t.Errorf("%s differs: %v, %v", name, errA, errB)
		}
	}
}

// sameCases compares two run records: everything about their cases except the time taken.
func sameCases(t *testing.T, one, two string) {
	t.Helper()
	var cases [2][]record.Case
	for i, dir := range []string{one, two} {
		r, err := record.Read(filepath.Join(dir, results.RunFile))
		if err != nil {
			t.Fatal(err)
		}
		for _, c := range r.Cases {
			if len(c.Violated) == 0 {
				t.Errorf("%s: no evaluation of %s violated anything", dir, c.Name)
			}
			c.Seconds = 0
			cases[i] = append(cases[i], c)
		}
	}
	if !reflect.DeepEqual(cases[0], cases[1]) {
		t.Errorf("cases differ:\n%+v\n%+v", cases[0], cases[1])
	}
}

func TestStoppedRunContinuesToTheSameFront(t *testing.T) {
	t.Parallel()
	job := shortJob(t)
	whole := undisturbed(t, job)
	dir := halfway(t, job)
	r := rand.New(rand.NewPCG(1, 9))
	code, _, said := interruptedAt(t, time.Minute, "continues from generation", "resume", dir)
	stops := 1
	for code == process.Unfinished && stops < 100 {
		stops++
		if !strings.Contains(said, "forkfront resume") {
			t.Fatalf("the command to continue is not printed: %q", said)
		}
		code, _, said = interrupted(t, time.Duration(60+10*stops+r.IntN(150))*time.Millisecond, "resume", dir, "--workers", "1")
	}
	if code != process.Done || stops < 2 {
		t.Fatalf("exit %d after %d stops: %s", code, stops, said)
	}
	sameResults(t, whole, dir)
	sameCases(t, whole, dir)
	if left, _ := filepath.Glob(filepath.Join(dir, results.CheckpointDir, "*")); len(left) > 0 {
		t.Errorf("a finished run keeps %v", left)
	}
	if code, out, _ := command(t, "resume", dir); code != process.Done || !strings.Contains(out, "has finished") {
		t.Errorf("resuming a finished run: exit %d, %q", code, out)
	}
}

// A run that was killed between its record, which says that it has finished, and its report is continued; one that
// was killed while it cleaned up is finished, and its checkpoints are removed.
func TestKillAfterTheRecord(t *testing.T) {
	t.Parallel()
	job := shortJob(t)
	whole, dir := undisturbed(t, job), halfway(t, job)
	record, err := os.ReadFile(filepath.Join(whole, results.RunFile))
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(dir, results.RunFile), record, 0o644); err != nil {
		t.Fatal(err)
	}
	want(t, process.Done, "resume", dir)
	sameResults(t, whole, dir)
	if _, err := os.Stat(filepath.Join(dir, results.ReportFile)); err != nil {
		t.Error(err)
	}
	left := filepath.Join(dir, results.CheckpointDir, "case-00000.checkpoint")
	if err := os.WriteFile(left, []byte("left"), 0o644); err != nil {
		t.Fatal(err)
	}
	if code, out, said := command(t, "resume", dir); code != process.Done || !strings.Contains(out, "has finished") {
		t.Errorf("exit %d: %s%s", code, out, said)
	}
	if _, err := os.Stat(left); err == nil {
		t.Error("a checkpoint is left")
	}
}

// halfway is the folder of a run of two cases that was stopped as soon as both had a state to continue from.
func halfway(t *testing.T, job string) string {
	t.Helper()
	for range 5 {
		dir := filepath.Join(t.TempDir(), "half")
		ctx, cancel := context.WithCancel(context.Background())
		ended := make(chan int)
		go func() {
			var o, e strings.Builder
			ended <- Main(ctx, process.Env{Args: []string{"run", job, "--out", dir, "--checkpoint-every", "0s"}, In: strings.NewReader(""), Out: &o, Err: &e})
		}()
		code, looks := -1, time.NewTicker(time.Millisecond)
		for code < 0 {
			select {
			case code = <-ended:
			case <-looks.C:
				if states, _ := filepath.Glob(filepath.Join(dir, results.CheckpointDir, "state-*")); len(states) >= 2 {
					cancel()
				}
			}
		}
		looks.Stop()
		cancel()
		if code == process.Unfinished {
			return dir
		}
	}
	t.Fatal("no run could be stopped halfway")
	return ""
}

func copyFolder(t testing.TB, from string) string {
	t.Helper()
	to := filepath.Join(t.TempDir(), "copy")
	if err := os.CopyFS(to, os.DirFS(from)); err != nil {
		t.Fatal(err)
	}
	return to
}

// Whatever byte of a checkpoint is wrong, or however much of it is missing: the front is right or
// the program says why it cannot continue.
func TestDamagedCheckpointsNeverGiveAWrongFront(t *testing.T) {
	t.Parallel()
	job := shortJob(t)
	whole, half := undisturbed(t, job), halfway(t, job)
	files, _ := filepath.Glob(filepath.Join(half, results.CheckpointDir, "*.checkpoint"))
	if len(files) < 2 {
		t.Fatalf("checkpoints: %v", files)
	}
	r, damaged := rand.New(rand.NewPCG(4, 2)), 0
	kinds := []string{"flip", "cut", "empty"}
	for i, file := range files {
		for k := range 2 { // two of the three for each file, in turn
			damage := kinds[(i+k)%len(kinds)]
			dir := copyFolder(t, half)
			path := filepath.Join(dir, results.CheckpointDir, filepath.Base(file))
			text, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			most := len(text)
			if strings.HasPrefix(filepath.Base(file), "candidates-") {
				most = min(most, 200) // what follows the state is rewritten without being read
			}
			if most == 0 {
				continue // stopped before anything was written: there is nothing to damage
			}
			damaged++
			switch damage {
			case "flip":
				text[r.IntN(most)] ^= 1 << r.IntN(8)
			case "cut":
				text = text[:r.IntN(most)]
			case "empty":
				text = nil
			}
			if err := os.WriteFile(path, text, 0o644); err != nil {
				t.Fatal(err)
			}
			code, _, said := command(t, "resume", dir)
			switch {
			case code == process.Done:
				sameResults(t, whole, dir)
				if !strings.Contains(said, filepath.Base(file)) {
					t.Errorf("%s of %s passed without a word", damage, filepath.Base(file))
				}
			case code != process.Input || !strings.Contains(said, "damaged"):
				t.Errorf("%s of %s: exit %d, %s", damage, filepath.Base(file), code, said)
			}
		}
	}
	if damaged < 6 {
		t.Errorf("%d files were damaged", damaged)
	}
}

// Every byte of a sealed file counts.
func TestEveryByteOfASealedFileCounts(t *testing.T) {
	t.Parallel()
	path := filepath.Join(t.TempDir(), "x.checkpoint")
	if err := store.Seal(path, &store.DoneCase{Digest: "d", Record: record.Case{Name: "n", Evaluations: 7}}); err != nil {
		t.Fatal(err)
	}
	good, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	var d store.DoneCase
	if err := store.Unseal(path, &d); err != nil || d.Record.Evaluations != 7 {
		t.Fatalf("%v, %+v", err, d)
	}
	for i := range good {
		for _, bad := range [][]byte{append(bytes.Clone(good[:i]), good[i+1:]...), good[:i], flipped(good, i)} {
			if err := os.WriteFile(path, bad, 0o644); err != nil {
				t.Fatal(err)
			}
			if err := store.Unseal(path, &d); !store.Unreadable(err) {
				t.Fatalf("byte %d of %d: read without an error", i, len(good))
			}
		}
	}
}

func flipped(text []byte, i int) []byte {
	bad := bytes.Clone(text)
	bad[i] ^= 4
	return bad
}

func TestAChangedJobIsNotMixedWithAnOldRun(t *testing.T) {
	t.Parallel()
	job := shortJob(t)
	half := halfway(t, job)
	text, err := os.ReadFile(job)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(job, bytes.Replace(text, []byte("sag_pct: 25"), []byte("sag_pct: 26"), 1), 0o644); err != nil {
		t.Fatal(err)
	}
	if code, _, said := command(t, "resume", half); code != process.Input || !strings.Contains(said, "has changed") {
		t.Errorf("exit %d: %s", code, said)
	}
	if code, _, said := command(t, "resume", half, "--as-begun"); code != process.Done {
		t.Errorf("exit %d: %s", code, said)
	}
}

// A job comes out of its packing as it went in.
func TestPackedJobRoundTrip(t *testing.T) {
	paths, _ := filepath.Glob("examples/*.yaml")
	packed := 0
	for _, path := range paths {
		f, err := os.Open(path)
		if err != nil {
			t.Fatal(err)
		}
		j, _, err := files.ReadJob(path, f)
		f.Close()
		if err != nil {
			continue // a concept
		}
		b, err := store.Pack(j, path, "", 0, time.Time{})
		if err != nil {
			t.Fatal(err)
		}
		back, err := b.Unpack()
		if err != nil {
			t.Fatal(err)
		}
		for i := range j.Start {
			j.Start[i].File = nil // it is looked into before a run begins, to tell of what differs
		}
		if !reflect.DeepEqual(j, back) {
			a, _ := json.Marshal(j)
			c, _ := json.Marshal(back)
			t.Errorf("%s:\n%s\n%s", path, a, c)
		}
		packed++
	}
	if packed < 2 {
		t.Errorf("only %d jobs", packed)
	}
}
