package jobs

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"forkfront/jobs/process"
	"forkfront/jobs/shards"
	"forkfront/results"
	"forkfront/results/record"
)

// small is the demo as a sweep of twelve cases of so many evaluations each, in a file.
func small(t *testing.T, evaluations string) string {
	t.Helper()
	return jobFile(t, shortDemo(evaluations, "seeds: [1]", "seeds: [7, 2, 3, 4, 5, 6]"))
}

// want runs a command that has to end with a code, and returns all that it prints.
func want(t *testing.T, code int, args ...string) string {
	t.Helper()
	got, out, said := command(t, args...)
	if got != code {
		t.Fatalf("%v: exit %d, want %d: %s%s", args, got, code, out, said)
	}
	return out + said
}

func says(t *testing.T, what string, words ...string) {
	t.Helper()
	for _, w := range words {
		if !strings.Contains(what, w) {
			t.Errorf("%q is not said: %s", w, what)
		}
	}
}

// A shard does not go where a run of its own is, nor where shards of another plan are, published or not.
func TestShardRefusesFoldersOfOtherPlans(t *testing.T) {
	t.Parallel()
	job, other := small(t, "300"), small(t, "310")
	one, two := planned(t, job, 2), planned(t, other, 2)
	held := undisturbed(t, job)
	says(t, want(t, process.Input, "run", "--plan", one, "--shard", "1/2", "--out", held), "holds an ordinary run")
	if _, err := os.Stat(filepath.Join(held, shards.ShardsDir)); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("a shard that was refused leaves a folder: %v", err)
	}

	dir := filepath.Join(t.TempDir(), "out")
	want(t, process.Done, "run", "--plan", one, "--shard", "0/2", "--out", dir)
	before := fileText(t, filepath.Join(shards.ShardDir(dir, 0), shards.ManifestFile))
	for _, shard := range []string{"0/2", "1/2"} {
		says(t, want(t, process.Input, "run", "--plan", two, "--shard", shard, "--out", dir), "another plan")
	}
	if fileText(t, filepath.Join(shards.ShardDir(dir, 0), shards.ManifestFile)) != before {
		t.Error("the shard of the first plan was written over")
	}
	says(t, want(t, process.Input, "merge", "--plan", two, "--out", dir), "another plan")

	want(t, process.Done, "run", "--plan", one, "--shard", "1/2", "--out", dir)
	for range 2 {
		want(t, process.Done, "merge", "--plan", one, "--out", dir)
		says(t, want(t, process.Done, "run", "--plan", one, "--shard", "1/2", "--out", dir), "already published")
	}
	for _, args := range [][]string{{"run", "--shard", "1/2"}, {"merge"}} {
		says(t, want(t, process.Input, append(args, "--plan", two, "--out", dir)...), "another plan")
	}
}

// A shard that was stopped has its folder to itself as much as one that is published.
func TestAnUnfinishedShardIsNotMixedWithAnotherPlan(t *testing.T) {
	t.Parallel()
	one, two := planned(t, small(t, "60000"), 2), planned(t, small(t, "300"), 2)
	dir := filepath.Join(t.TempDir(), "out")
	shard := []string{"--shard", "0/2", "--out", dir, "--checkpoint-every", "0s"}
	if code, _, said := interrupted(t, 700*time.Millisecond, append([]string{"run", "--plan", one}, shard...)...); code != process.Unfinished {
		t.Fatalf("exit %d: %s", code, said)
	}
	if left, _ := filepath.Glob(filepath.Join(shards.ShardDir(dir, 0), "*.checkpoint")); len(left) == 0 {
		t.Fatal("the shard left nothing")
	}
	says(t, want(t, process.Input, append([]string{"run", "--plan", two}, shard...)...), "another plan")
	says(t, want(t, process.Input, "merge", "--plan", two, "--out", dir), "another plan")
}

// Shards that wait to be joined are in the way of a run as results are; --replace removes them, and of what
// else lies there nothing.
func TestRunRefusesAFolderOfShards(t *testing.T) {
	t.Parallel()
	job := small(t, "300")
	plan, dir := planned(t, job, 2), filepath.Join(t.TempDir(), "out")
	for _, shard := range []string{"0/2", "1/2"} {
		want(t, process.Done, "run", "--plan", plan, "--shard", shard, "--out", dir)
	}
	says(t, want(t, process.Input, "run", job, "--out", dir), "2 shards", "merge", "--replace")
	want(t, process.Done, "merge", "--plan", plan, "--out", dir)
	mine := filepath.Join(shards.ShardDir(dir, 1), "notes.txt")
	if err := os.WriteFile(mine, []byte("mine"), 0o600); err != nil {
		t.Fatal(err)
	}
	want(t, process.Input, "run", job, "--out", dir)
	want(t, process.Done, "run", job, "--out", dir, "--replace")
	var left []string
	err := filepath.WalkDir(filepath.Join(dir, shards.ShardsDir), func(path string, d fs.DirEntry, err error) error {
		if err == nil && !d.IsDir() {
			left = append(left, path)
		}
		return err
	})
	if err != nil || len(left) != 1 || left[0] != mine {
		t.Errorf("left of the shards: %v, %v", left, err)
	}
	if _, err := os.Stat(shards.ShardDir(dir, 0)); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("an empty folder of a shard is left: %v", err)
	}
}

// What is merged says of the run what a run of the same file would: its seed, its file, from when to when. It
// says the same each time.
func TestMergedRecordDescribesTheWholeRun(t *testing.T) {
	t.Parallel()
	job := small(t, "300")
	whole, dir := undisturbed(t, job), filepath.Join(t.TempDir(), "out")
	plan, began := planned(t, job, 2), time.Now()
	for _, shard := range []string{"1/2", "0/2"} {
		want(t, process.Done, "run", "--plan", plan, "--shard", shard, "--out", dir)
	}
	ended := time.Now()
	want(t, process.Done, "merge", "--plan", plan, "--out", dir)
	before := map[string]string{}
	for _, name := range []string{results.RunFile, results.FrontFile, results.ReportFile, results.LogFile} {
		before[name] = fileText(t, filepath.Join(dir, name))
	}
	want(t, process.Done, "run", "--plan", plan, "--shard", "1/2", "--out", dir) // already published
	want(t, process.Done, "merge", "--plan", plan, "--out", dir)
	for name, text := range before {
		if fileText(t, filepath.Join(dir, name)) != text {
			t.Errorf("merged again, %s is another", name)
		}
	}
	a, errA := record.Read(filepath.Join(whole, results.RunFile))
	b, errB := record.Read(filepath.Join(dir, results.RunFile))
	if errA != nil || errB != nil {
		t.Fatal(errA, errB)
	}
	if b.Seed != 7 || a.Seed != 7 || b.JobSHA256 != a.JobSHA256 {
		t.Errorf("merged: seed %d, job %s; run: seed %d, job %s; the first seed is 7", b.Seed, b.JobSHA256, a.Seed, a.JobSHA256)
	}
	if b.Started.Before(began) || !b.Finished.After(b.Started) || b.Finished.After(ended) {
		t.Errorf("from %s to %s; the shards ran from %s to %s", b.Started, b.Finished, began, ended)
	}
	first, err := shards.ReadManifest(shards.ShardDir(dir, 1))
	if err != nil || !b.Started.Equal(first.Started) {
		t.Errorf("started %s, the first shard %v: %v", b.Started, first, err)
	}
	sameResults(t, whole, dir)
}

// A shard that was stopped and run again started when it first did.
func TestRestartedShardKeepsItsFirstStart(t *testing.T) {
	dir, first := t.TempDir(), time.Date(2026, 3, 1, 23, 0, 0, 5e8, time.UTC)
	for _, x := range []struct {
		plan      string
		now, want time.Time
	}{
		{"a", first, first},
		{"a", first.Add(time.Hour), first},
		{"a", first.Add(-time.Hour), first.Add(-time.Hour)}, // a clock that was ahead
		{"b", first, first},
		{"b", first.Add(time.Minute), first},
	} {
		if got, err := shards.FirstStart(dir, x.plan, x.now); err != nil || !got.Equal(x.want) {
			t.Errorf("plan %s at %s: %s, %v; want %s", x.plan, x.now, got, err, x.want)
		}
	}
}

// A damaged shard is told of in one line.
func TestDamagedShardIsReportedInOneLine(t *testing.T) {
	t.Parallel()
	plan, dir := planned(t, small(t, "300"), 1), filepath.Join(t.TempDir(), "out")
	want(t, process.Done, "run", "--plan", plan, "--shard", "0/1", "--out", dir)
	path := filepath.Join(shards.ShardDir(dir, 0), "case-00002.checkpoint")
	if err := os.WriteFile(path, flipped([]byte(fileText(t, path)), 900), 0o600); err != nil {
		t.Fatal(err)
	}
	said := want(t, process.Unfinished, "merge", "--plan", plan, "--out", dir)
	if lines := strings.Split(strings.TrimSpace(said), "\n"); len(lines) != 2 || !strings.Contains(lines[0], "damaged") || !strings.Contains(lines[1], "--array=0") {
		t.Errorf("a damaged shard is told of as %q", said)
	}
}

// Folders that shards left empty are in nobody's way.
func TestEmptyFoldersOfShardsAreNone(t *testing.T) {
	out := t.TempDir()
	if err := os.MkdirAll(filepath.Join(out, "shards", "000", "00000"), 0o755); err != nil {
		t.Fatal(err)
	}
	if held := shards.ShardsIn(out); len(held) > 0 {
		t.Errorf("%v", held)
	}
}
