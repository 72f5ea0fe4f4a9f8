package jobs

import (
	"bytes"
	"crypto/sha256"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"forkfront/jobs/process"
	"forkfront/jobs/shards"
	"forkfront/optimize/arithmetic"
	"forkfront/results"
)

const otherKind = "amd64 fused by go1 0123456789abcdef"

// computedElsewhere makes a checkpoint one that a build of another arithmetic wrote, its seal included.
func computedElsewhere(t *testing.T, path string) {
	t.Helper()
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	end := bytes.IndexByte(text, '\n') + 1
	line := strings.Replace(string(text[:end]), arithmetic.Kind(), otherKind, 1)
	body := text[end+sha256.Size:]
	sum := sha256.Sum256(append([]byte(line), body...))
	if err := os.WriteFile(path, append(append([]byte(line), sum[:]...), body...), 0o644); err != nil {
		t.Fatal(err)
	}
}

// A run that a build of another arithmetic began, or whose states one wrote, is not continued.
func TestStatesOfOtherArithmeticAreNotContinued(t *testing.T) {
	half := filepath.Join(t.TempDir(), "half")
	names := begunOnly(t, tinyJob(t), half)
	for i := range names {
		dir := copyFolder(t, half)
		which := names[i : i+1]
		if i > 0 {
			which = names[1:] // where one state cannot be used the other one is
		}
		for _, name := range which {
			computedElsewhere(t, filepath.Join(dir, results.CheckpointDir, name))
		}
		code, _, said := command(t, "resume", dir)
		if code != process.Input || !strings.Contains(said, "computed with other arithmetic ("+otherKind+")") || !strings.Contains(said, "GOAMD64") {
			t.Errorf("%v: exit %d: %s", which, code, said)
		}
	}
	if code, _, said := command(t, "resume", half); code != process.Done {
		t.Errorf("its own run: exit %d: %s", code, said)
	}
}

// Shards of other arithmetic are not merged, and a shard with such cases in its folder is not run.
func TestShardsOfOtherArithmeticAreNotMixed(t *testing.T) {
	t.Parallel()
	plan, dir := planned(t, twelve(t), 2), filepath.Join(t.TempDir(), "out")
	for _, shard := range []string{"0/2", "1/2"} {
		if code, _, said := command(t, "run", "--plan", plan, "--shard", shard, "--out", dir); code != process.Done {
			t.Fatalf("shard %s: exit %d: %s", shard, code, said)
		}
	}
	done, err := filepath.Glob(filepath.Join(shards.ShardDir(dir, 1), "case-*"))
	if err != nil || len(done) == 0 {
		t.Fatalf("no cases of shard 1: %v", err)
	}
	computedElsewhere(t, done[len(done)-1])
	for _, args := range [][]string{{"merge", "--plan", plan, "--out", dir}, {"run", "--plan", plan, "--shard", "1/2", "--out", dir}} {
		code, _, said := command(t, args...)
		if code != process.Input || !strings.Contains(said, "computed with other arithmetic ("+otherKind+")") {
			t.Errorf("%v: exit %d: %s", args[0], code, said)
		}
	}
}

func TestTheRecordNamesTheArithmetic(t *testing.T) {
	text, err := os.ReadFile(filepath.Join(tinyResults(t), results.RunFile))
	if err != nil || !strings.Contains(string(text), `"arithmetic": "`+arithmetic.Kind()+`"`) {
		t.Errorf("%v\n%s", err, text)
	}
}
