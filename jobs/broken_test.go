package jobs

import (
	"bytes"
	"errors"
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"forkfront/jobs/files"
	"forkfront/jobs/files/document"
)

var rewrite = flag.Bool("rewrite-messages", false, "rewrite the expected messages for invalid files")

// Each broken job is the valid one with one thing wrong (or several, as its name says). Its message
// is kept beside it and read like code when it changes.
func TestBrokenJobsSayWhatIsWrong(t *testing.T) {
	paths, _ := filepath.Glob("testdata/broken/*.yaml")
	if len(paths) < 20 {
		t.Fatalf("%d broken files found; at least 20 are kept", len(paths))
	}
	if err := readJob("testdata/valid.yaml"); err != nil {
		t.Fatalf("the file that all of them were made from: %v", err)
	}
	for _, path := range paths {
		err := readJob(path)
		var faults document.Faults
		if !errors.As(err, &faults) {
			t.Errorf("%s: got %v; faults are expected", path, err)
			continue
		}
		keep(t, strings.TrimSuffix(path, ".yaml")+".txt", filepath.ToSlash(err.Error())+"\n")
	}
}

func keep(t *testing.T, path, got string) {
	t.Helper()
	if *rewrite {
		if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if got != string(want) {
		t.Errorf("%s:\n got %s\nwant %s", path, got, want)
	}
}

// A 50 MB file is refused after its first MiB, before any of it is parsed.
func TestHugeFileIsRefused(t *testing.T) {
	t.Parallel()
	huge := bytes.NewReader(bytes.Repeat([]byte("job: x # "), 50<<20/9))
	_, _, err := files.ReadJob("huge.yaml", huge)
	if err == nil || !strings.Contains(err.Error(), "huge.yaml: longer than 1048576 bytes") {
		t.Errorf("got %v", err)
	}
	if read := huge.Size() - int64(huge.Len()); read > 2*document.MaxFileBytes {
		t.Errorf("%d bytes were read", read)
	}
}

type failing struct{}

func (failing) Read([]byte) (int, error) { return 0, os.ErrPermission }

// A disk that fails is no fault of the file: the exit codes differ.
func TestReadErrorIsNotAFault(t *testing.T) {
	_, _, err := files.ReadJob("-", failing{})
	var faults document.Faults
	if !errors.Is(err, os.ErrPermission) || errors.As(err, &faults) {
		t.Errorf("got %v", err)
	}
}

func FuzzReadJob(f *testing.F) {
	paths, _ := filepath.Glob("testdata/broken/*.yaml")
	for _, path := range append(paths, "testdata/valid.yaml", "examples/demo.yaml") {
		text, err := os.ReadFile(path)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		j, _, err := files.ReadJob("fuzz.yaml", bytes.NewReader(text))
		if (j == nil) == (err == nil) {
			t.Errorf("job %v with error %v; exactly one is expected", j, err)
		}
	})
}
