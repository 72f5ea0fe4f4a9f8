package jobs

import (
	"context"
	"errors"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"forkfront/jobs/process"
	"forkfront/results"
)

// full is a disk without room, from so many bytes on.
type full struct{ room int }

var errFull = errors.New("no room")

func (f *full) Write(b []byte) (int, error) {
	if f.room -= len(b); f.room < 0 {
		return 0, errFull
	}
	return len(b), nil
}

// Whichever verb prints: results that do not arrive are a failure.
func TestFailedOutputIsAFailure(t *testing.T) {
	t.Parallel()
	job := tinyJob(t)
	plan, dir, shards := filepath.Join(t.TempDir(), "plan.json"), undisturbed(t, job), filepath.Join(t.TempDir(), "out")
	want(t, process.Done, "plan", job, "--shards", "1", "--out", plan)
	want(t, process.Done, "run", "--plan", plan, "--shard", "0/1", "--out", shards)
	for _, room := range []int{0, 20} {
		for _, args := range [][]string{
			{"check", job},
			{"schema", "job"},
			{"help", "measures"},
			{"--help"},
			{"score", "examples/cargo-girder.yaml"},
			{"score", "examples/cargo-girder.yaml", "--json"},
			{"plan", job, "--shards", "1", "--out", filepath.Join(t.TempDir(), "plan.json")},
			{"run", job, "--out", filepath.Join(t.TempDir(), "out")},
			{"run", "--plan", plan, "--shard", "0/1", "--out", shards},
			{"merge", "--plan", plan, "--out", shards},
			{"report", dir},
			{"resume", dir},
		} {
			var said strings.Builder
			code := Main(context.Background(), process.Env{Args: args, In: strings.NewReader(""), Out: &full{room}, Err: &said})
			if code != process.Outside || strings.Count(said.String(), errFull.Error()) != 1 {
				t.Errorf("%v with room for %d bytes: exit %d: %s", args, room, code, said.String())
			}
		}
	}
	// What went wrong before is told, and not that it could not be printed.
	if code := Main(context.Background(), process.Env{Args: []string{"check", "none.yaml"}, Out: &full{}, Err: io.Discard}); code != process.Input {
		t.Errorf("exit %d for a file that is not there", code)
	}
}

// A finished run is reported as finished on a read-only disk too, where neither the lock can be taken nor anything be
// removed. A folder and a file in their places fail in the same way, for an administrator as well.
func TestFinishedRunOnAReadOnlyDisk(t *testing.T) {
	t.Parallel()
	dir := tinyResults(t)
	kept := filepath.Join(dir, results.CheckpointDir)
	if err := errors.Join(os.Remove(kept), os.WriteFile(kept, nil, 0o600)); err != nil {
		t.Fatal(err)
	}
	says(t, want(t, process.Done, "resume", dir), "has finished: ")
	lock := filepath.Join(dir, ".forkfront.lock")
	if err := errors.Join(os.Remove(lock), os.Mkdir(lock, 0o700)); err != nil {
		t.Fatal(err)
	}
	says(t, want(t, process.Done, "resume", dir), "has finished: ")
}
