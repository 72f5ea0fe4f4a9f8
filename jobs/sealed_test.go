package jobs

import (
	"bytes"
	"crypto/sha256"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"forkfront/jobs/process"
	"forkfront/jobs/shards"
	"forkfront/jobs/store"
	"forkfront/results"
	"forkfront/results/table"
)

// firstCandidate is the first candidate of the front of a results folder.
func firstCandidate(t testing.TB, dir string) string {
	t.Helper()
	front, err := table.Read(filepath.Join(dir, results.FrontFile))
	if err != nil {
		t.Fatal(err)
	}
	return front.Series[front.Index("candidate")].Texts[0]
}

// unsealed is the text of a JSON file without its checksum, as earlier versions of the program wrote it.
func unsealed(t *testing.T, path string) string {
	t.Helper()
	text, _, found := strings.Cut(fileText(t, path), ",\n  \"sha256\":")
	if !found {
		t.Fatalf("%s has no checksum", path)
	}
	return text + "\n}\n"
}

// A digit of cases.yaml that is not the one that was written makes no other fork: the file belongs to its front.
func TestCasesBelongToTheirFront(t *testing.T) {
	t.Parallel()
	dir := tinyResults(t)
	id, path := firstCandidate(t, dir), filepath.Join(dir, results.CasesFile)
	text, changed := []byte(fileText(t, path)), 0
	for i, c := range text {
		if c < '0' || c > '9' || i%13 > 0 {
			continue
		}
		changed++
		bad := bytes.Clone(text)
		bad[i] = '0' + (c-'0'+1)%10
		if err := os.WriteFile(path, bad, 0o600); err != nil {
			t.Fatal(err)
		}
		for _, args := range [][]string{{"extract", dir, id}, {"report", dir}} {
			if code, out, said := command(t, args...); code != process.Outside || out != "" || !strings.Contains(said, results.CasesFile+" is damaged") {
				t.Fatalf("digit %d: %v: exit %d, %.80s%s", i, args, code, out, said)
			}
		}
	}
	if changed < 10 {
		t.Errorf("%d digits", changed)
	}
}

// Results of an earlier version of the program have no checksums of cases.yaml and run.json: they are read, with a word
// about it.
func TestResultsWithoutChecksumsAreReadWithAWarning(t *testing.T) {
	dir := tinyResults(t)
	id := firstCandidate(t, dir)
	_, whole, said := command(t, "extract", dir, id)
	if strings.Contains(said, "checksum") {
		t.Errorf("of sealed results: %s", said)
	}
	rewrittenWith(t, dir, func(meta map[string]string) { delete(meta, store.CasesSeal) }, func(*table.Column) (bool, bool) { return true, false })
	if code, out, said := command(t, "extract", dir, id); code != process.Done || out != whole || !strings.Contains(said, results.CasesFile+" has no checksum") {
		t.Errorf("exit %d: %s", code, said)
	}
	path := filepath.Join(dir, results.RunFile)
	if err := os.WriteFile(path, []byte(unsealed(t, path)), 0o600); err != nil {
		t.Fatal(err)
	}
	if code, _, said := command(t, "report", dir); code != process.Done || !strings.Contains(said, results.RunFile+" has no checksum") || strings.Count(said, results.CasesFile) != 1 {
		t.Errorf("exit %d: %s", code, said)
	}
}

// A case is read when it is asked for, and no other: one that nobody asks for may be anything.
func TestOnlyTheCaseAskedForIsRead(t *testing.T) {
	dir := tinyResults(t)
	path := filepath.Join(dir, results.CasesFile)
	text := fileText(t, path)
	name := firstCandidate(t, dir)
	name = name[:strings.LastIndex(name, "/")]
	text += store.NextCase + "\nschema_version: 2\nname: other\nconcept: {}\n"
	if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	all, err := store.OpenCases(path, fmt.Sprintf("%x", sha256.Sum256([]byte(text))))
	if err != nil {
		t.Fatal(err)
	}
	if c, err := all.Case(name); err != nil || c == nil || c.Name != name {
		t.Errorf("%q: %v, %v", name, c, err)
	}
	if c, err := all.Case("other"); err == nil || !strings.Contains(err.Error(), "document 2") {
		t.Errorf("an empty concept: %v, %v", c, err)
	}
	if c, err := all.Case("none"); err != nil || c != nil {
		t.Errorf("none: %v, %v", c, err)
	}
	if _, err := store.OpenCases(path, strings.Repeat("0", 64)); err == nil || !strings.Contains(err.Error(), "damaged") {
		t.Errorf("another checksum: %v", err)
	}
}

// A finished case belongs to its own name: in place of another, it is searched again and does not merge.
func TestCaseFilesCannotBeSwapped(t *testing.T) {
	t.Parallel()
	job := small(t, "300")
	whole := undisturbed(t, job)
	plan, dir := planned(t, job, 2), filepath.Join(t.TempDir(), "out")
	for _, shard := range []string{"0/2", "1/2"} {
		want(t, process.Done, "run", "--plan", plan, "--shard", shard, "--out", dir)
	}
	at := func(i int) string {
		return filepath.Join(shards.ShardDir(dir, 0), fmt.Sprintf("case-%05d.checkpoint", i))
	}
	if err := os.WriteFile(at(2), []byte(fileText(t, at(4))), 0o600); err != nil {
		t.Fatal(err)
	}
	says(t, want(t, process.Unfinished, "merge", "--plan", plan, "--out", dir), "case-00002.checkpoint belongs to case", "--array=0")
	says(t, want(t, process.Done, "run", "--plan", plan, "--shard", "0/2", "--out", dir), "belongs to case")
	want(t, process.Done, "merge", "--plan", plan, "--out", dir)
	sameResults(t, whole, dir)
}

// The manifest of a shard is compared with its plan and its cases, and has a checksum.
func TestManifestBelongsToItsShard(t *testing.T) {
	t.Parallel()
	plan, dir := planned(t, small(t, "300"), 2), filepath.Join(t.TempDir(), "out")
	for _, shard := range []string{"0/2", "1/2"} {
		want(t, process.Done, "run", "--plan", plan, "--shard", shard, "--out", dir)
	}
	path := filepath.Join(shards.ShardDir(dir, 1), shards.ManifestFile)
	text, unsealed := fileText(t, path), unsealed(t, path)
	for _, x := range []struct {
		text string
		code int
		says string
	}{
		{strings.Replace(text, `"rows": `, `"rows": 1`, 1), process.Unfinished, "checksum"},
		{strings.Replace(text, `"started": "2`, `"started": "1`, 1), process.Unfinished, "checksum"},
		{fileText(t, filepath.Join(shards.ShardDir(dir, 0), shards.ManifestFile)), process.Unfinished, "another shard (number 0"},
		{strings.Replace(unsealed, `"rows": `, `"rows": 1`, 1), process.Unfinished, "candidates; its manifest.json says"},
		{unsealed, process.Done, "has no checksum"},
	} {
		if err := os.WriteFile(path, []byte(x.text), 0o600); err != nil || x.text == text {
			t.Fatal(err)
		}
		says(t, want(t, x.code, "merge", "--plan", plan, "--out", dir), x.says)
	}
}

// A run that was killed before it could write its record is continued, and a run or shards in its folder are refused
// with the way to do so.
func TestARunKilledBeforeItsRecordIsResumed(t *testing.T) {
	t.Parallel()
	job := tinyJob(t)
	whole, dir := filepath.Join(t.TempDir(), "whole"), filepath.Join(t.TempDir(), "killed")
	want(t, process.Done, "run", job, "--out", whole)
	begunOnly(t, job, dir)
	for _, name := range []string{results.RunFile, results.LogFile} {
		if err := os.Remove(filepath.Join(dir, name)); err != nil {
			t.Fatal(err)
		}
	}
	states, _ := filepath.Glob(filepath.Join(dir, results.CheckpointDir, "state-*"))
	for _, path := range states {
		if err := os.Remove(path); err != nil {
			t.Fatal(err)
		}
	}
	left := filepath.Join(dir, results.CheckpointDir, ".job.checkpoint123")
	if err := os.WriteFile(left, []byte("half"), 0o600); err != nil {
		t.Fatal(err)
	}
	says(t, want(t, process.Input, "run", job, "--out", dir), "forkfront resume "+dir)
	says(t, want(t, process.Input, "report", dir, "--figures"), "forkfront resume "+dir)
	plan := planned(t, small(t, "300"), 2)
	says(t, want(t, process.Input, "run", "--plan", plan, "--shard", "0/2", "--out", dir), "unfinished run")
	says(t, want(t, process.Input, "merge", "--plan", plan, "--out", dir), "unfinished run")
	want(t, process.Done, "resume", dir)
	sameResults(t, whole, dir)
	if rest, _ := os.ReadDir(filepath.Join(dir, results.CheckpointDir)); len(rest) > 0 {
		t.Errorf("left: %v", rest)
	}
}

// A folder in which a run was killed before it had sealed its job holds nothing: another run takes it, and clears up.
func TestARunKilledBeforeItsJobLeavesNothing(t *testing.T) {
	job, dir := tinyJob(t), filepath.Join(t.TempDir(), "killed")
	left := filepath.Join(dir, results.CheckpointDir, ".job.checkpoint123")
	if err := os.MkdirAll(filepath.Dir(left), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(left, []byte("half"), 0o600); err != nil {
		t.Fatal(err)
	}
	says(t, want(t, process.Input, "resume", dir), "holds no run")
	want(t, process.Done, "run", job, "--out", dir)
	if _, err := os.Stat(left); err == nil {
		t.Error("the temporary file is still there")
	}
}

// A record that is damaged is said to be; a finished folder is not sent to --replace for it.
func TestDamagedRecordIsReported(t *testing.T) {
	dir := tinyResults(t)
	path := filepath.Join(dir, results.RunFile)
	if err := os.WriteFile(path, []byte(strings.Replace(fileText(t, path), `"feasible": `, `"feasible": 1`, 1)), 0o600); err != nil {
		t.Fatal(err)
	}
	for _, verb := range []string{"resume", "report"} {
		if said := want(t, process.Outside, verb, dir); !strings.Contains(said, path) || !strings.Contains(said, "checksum") || strings.Contains(said, "--replace") {
			t.Errorf("%s says %q", verb, said)
		}
	}
}

// What a killed export has left half written goes with the next one; a file of the user's stays.
func TestExportsRemoveFilesOfAKilledExport(t *testing.T) {
	dir, out := tinyResults(t), t.TempDir()
	id := firstCandidate(t, dir)
	made := strings.Fields(want(t, process.Done, "extract", dir, id, "--out", out))
	left, mine := filepath.Join(out, "."+filepath.Base(made[0])+"5577"), filepath.Join(out, "."+filepath.Base(made[0])+"1.bak")
	for _, path := range []string{left, mine} {
		if err := os.WriteFile(path, []byte("half"), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	want(t, process.Done, "extract", dir, id, "--out", out)
	if _, err := os.Stat(left); err == nil {
		t.Error("what was half written is still there")
	}
	if _, err := os.Stat(mine); err != nil {
		t.Error(err)
	}
}

// A report is made of the files of one run, none of them damaged, also of those that only others read.
func TestReportCoversOneRun(t *testing.T) {
	dir := tinyResults(t)
	other := filepath.Join(t.TempDir(), "other")
	want(t, process.Done, "run", jobFile(t, strings.Replace(fileText(t, tinyJob(t)), "job: ", "job: another ", 1)), "--out", other)
	for _, name := range []string{results.CurvesFile, results.HistoryFile, results.TelescopicFile, results.RunFile} {
		path := filepath.Join(dir, name)
		mine := fileText(t, path)
		for text, names := range map[string]string{
			fileText(t, filepath.Join(other, name)):                                 "the files of two runs are mixed",
			mine[:len(mine)/2] + string(mine[len(mine)/2]^1) + mine[len(mine)/2+1:]: name,
		} {
			if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
				t.Fatal(err)
			}
			says(t, want(t, process.Outside, "report", dir), names)
		}
		if err := os.WriteFile(path, []byte(mine), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	want(t, process.Done, "report", dir)
}
