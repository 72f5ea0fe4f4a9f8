package results

import (
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

func put(t *testing.T, dir string, names ...string) {
	t.Helper()
	for _, name := range names {
		path := filepath.Join(dir, name)
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte(name), 0o600); err != nil {
			t.Fatal(err)
		}
	}
}

func TestOccupiedFolderRefused(t *testing.T) {
	for _, name := range append(slices.Clone(ownFiles), "checkpoint/case-0.checkpoint", JobCheckpoint) {
		dir := t.TempDir()
		put(t, dir, name)
		_, err := Open(dir, false)
		var occupied *ErrOccupied
		if !errors.As(err, &occupied) {
			t.Errorf("%s: got %v", name, err)
			continue
		}
		for _, says := range []string{"--replace", name} {
			if !strings.Contains(err.Error(), says) {
				t.Errorf("%q does not say %q", err, says)
			}
		}
		if resumable := name == JobCheckpoint; strings.Contains(err.Error(), "forkfront resume "+dir) != resumable {
			t.Errorf("%s can be resumed: %t; %q", name, resumable, err)
		}
		if kept, err := os.ReadFile(filepath.Join(dir, name)); err != nil || string(kept) != name {
			t.Errorf("%s was touched: %q, %v", name, kept, err)
		}
	}
}

func TestReplaceKeepsForeignFiles(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "with [star]*")
	foreign := []string{"notes.md", "old.parquet", "front.parquet.bak", "checkpoint/mine.txt", "sub/front.parquet", ".forkfront-notes"}
	put(t, dir, foreign...)
	put(t, dir, ownFiles...)
	put(t, dir, "checkpoint/case-0.checkpoint", ".forkfront-front.parquet-123", ".run.json123")
	f, err := Open(dir, true)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	for _, name := range foreign {
		if kept, err := os.ReadFile(f.Path(name)); err != nil || string(kept) != name {
			t.Errorf("foreign %s: %q, %v", name, kept, err)
		}
	}
	for _, name := range append(ownFiles, "checkpoint/case-0.checkpoint", ".forkfront-front.parquet-123", ".run.json123") {
		if _, err := os.Lstat(f.Path(name)); !errors.Is(err, os.ErrNotExist) {
			t.Errorf("%s is still there: %v", name, err)
		}
	}
}

func TestFolderWithForeignFilesIsAccepted(t *testing.T) {
	dir := t.TempDir()
	put(t, dir, "notes.md")
	f, err := Open(dir, false)
	if err != nil {
		t.Fatalf("a folder without results was refused: %v", err)
	}
	if err := f.Close(); err != nil {
		t.Fatal(err)
	}
}

func TestSecondRunRefused(t *testing.T) {
	dir := t.TempDir()
	f, err := Open(dir, false)
	if err != nil {
		t.Fatal(err)
	}
	var locked *ErrLocked
	if _, err := Open(dir, true); !errors.As(err, &locked) {
		t.Errorf("a second opener got %v", err)
	}
	if out := openElsewhere(t, dir); !strings.Contains(out, "another forkfront is running") {
		t.Errorf("a second process got %q", out)
	}
	if err := f.Close(); err != nil {
		t.Fatal(err)
	}
	if out := openElsewhere(t, dir); !strings.Contains(out, "OPENED") {
		t.Errorf("after Close a second process got %q", out)
	}
}

// openElsewhere opens the folder in a process of its own: this test binary, running one test.
func openElsewhere(t *testing.T, dir string) string {
	t.Helper()
	cmd := exec.Command(os.Args[0], "-test.run=^TestOpenForParent$", "-test.v")
	cmd.Env = append(os.Environ(), "FORKFRONT_TEST_DIR="+dir)
	out, err := cmd.CombinedOutput()
	if err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	return string(out)
}

func TestOpenForParent(t *testing.T) {
	dir := os.Getenv("FORKFRONT_TEST_DIR")
	if dir == "" {
		t.Skip("run by TestSecondRunRefused in a process of its own")
	}
	f, err := Open(dir, false)
	if err != nil {
		t.Log(err)
		return
	}
	t.Log("OPENED")
	_ = f.Close()
}

func TestFolderThatIsAFile(t *testing.T) {
	dir := t.TempDir()
	put(t, dir, "out")
	if _, err := Open(filepath.Join(dir, "out"), true); err == nil {
		t.Error("a file was taken for a folder")
	}
	if _, err := Reopen(dir); err == nil || !strings.Contains(err.Error(), "no run to continue") {
		t.Errorf("continuing in a folder without a run: %v", err)
	}
}

// A run that was killed before it could write its record can be resumed; a message names few of many files.
func TestFolderWithOnlyAJob(t *testing.T) {
	dir := t.TempDir()
	put(t, dir, JobCheckpoint, "checkpoint/case-00000.checkpoint")
	for i := range 10_000 {
		put(t, dir, fmt.Sprintf("checkpoint/case-%05d.checkpoint", i))
	}
	_, err := Open(dir, false)
	var occupied *ErrOccupied
	if !errors.As(err, &occupied) || !occupied.Resumable || len(err.Error()) > 600 || !strings.Contains(err.Error(), "and 9995 more") {
		t.Errorf("%v", err)
	}
	f, err := Reopen(dir)
	if err != nil {
		t.Fatal(err)
	}
	f.Close()
}

// Reopening removes what killed runs have left half written, and nothing else.
func TestReopenClearsHalfWrittenFiles(t *testing.T) {
	dir := t.TempDir()
	half := []string{
		".forkfront-candidates.parquet-123", ".forkfront-front.parquet-9", ".run.json123", ".log.jsonl7", ".cases.yaml0",
		"checkpoint/.job.checkpoint8113", "checkpoint/.state-00001-0.checkpoint42", "figures/.fork1.png55",
	}
	rest := []string{
		RunFile, FrontFile, "notes.md", "checkpoint/case-0.checkpoint", ".forkfront-notes", ".run.json1.bak", ".run.json", "run.json9",
		"checkpoint/.notes5", "figures/.mine.png5",
	}
	for _, name := range append(half, rest...) {
		put(t, dir, name)
	}
	f, err := Reopen(dir)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	for _, name := range half {
		if _, err := os.Lstat(f.Path(name)); !errors.Is(err, os.ErrNotExist) {
			t.Errorf("%s is still there: %v", name, err)
		}
	}
	for _, name := range rest {
		if _, err := os.Lstat(f.Path(name)); err != nil {
			t.Errorf("%s is gone: %v", name, err)
		}
	}
}
