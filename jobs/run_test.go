package jobs

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"forkfront/jobs/process"
)

// command runs one command line in process.
func command(t *testing.T, args ...string) (code int, out, err string) {
	t.Helper()
	var o, e strings.Builder
	code = Main(context.Background(), process.Env{Args: args, In: strings.NewReader(""), Out: &o, Err: &e})
	return code, o.String(), e.String()
}

// The demo as its user runs it: a front of both mechanisms, the same whatever the workers, and not
// written over.
func TestTheDemoGivesAFront(t *testing.T) {
	t.Parallel()
	one, two := filepath.Join(t.TempDir(), "out"), filepath.Join(t.TempDir(), "out")
	if code, _, err := command(t, "run", "--out", one, "--workers", "1"); code != process.Done {
		t.Fatalf("exit %d: %s", code, err)
	}
	if code, _, err := command(t, "run", "--out", two, "--workers", "2"); code != process.Done {
		t.Fatalf("exit %d: %s", code, err)
	}
	for _, name := range []string{"front.parquet", "curves.parquet", "history.parquet"} {
		a, errA := os.ReadFile(filepath.Join(one, name))
		b, errB := os.ReadFile(filepath.Join(two, name))
		if errA != nil || errB != nil || !bytes.Equal(a, b) {
			t.Errorf("%s differs between one worker and two: %v, %v", name, errA, errB)
		}
	}
	checkFront(t, filepath.Join(one, "front.parquet"))
	checkShafts(t, filepath.Join(one, "front.parquet"))
	code, _, said := command(t, "run", "--out", one)
	if code != process.Input || strings.Contains(said, "resume") || !strings.Contains(said, "--replace") {
		t.Errorf("a second run on the folder: exit %d, %q", code, said)
	}
}

func TestUsageEndsInExitTwo(t *testing.T) {
	for _, args := range [][]string{{"run"}, {"run", "none.yaml", "--out", t.TempDir()}, {"nonsense"}, {"score"}, {"score", "none.yaml"}, {"run", "--wrokers", "2"}} {
		if code, out, err := command(t, args...); code != process.Input || err == "" || out != "" {
			t.Errorf("%v: exit %d, %q, %q", args, code, out, err)
		}
	}
}
