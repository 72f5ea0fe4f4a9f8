package jobs

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"forkfront/jobs/process"
	"forkfront/results"
	"forkfront/results/table"
)

// The pivot of a leading arm is all that the path of its axle depends on: the axle turns about it. So its total indices
// are the only ones that are not 0, and a variable of the shock moves no path.
func TestSensitivityOfTheDemo(t *testing.T) {
	t.Parallel()
	dir := filepath.Join(t.TempDir(), "out")
	code, printed, said := command(t, "sensitivity", "--out", dir, "--samples", "400", "--workers", "2")
	if code != process.Done || !strings.Contains(printed, "leading-arm-floating-brake/1: ") {
		t.Fatalf("exit %d: %s%s", code, printed, said)
	}
	all, err := table.Read(filepath.Join(dir, results.SensitivityFile))
	if err != nil {
		t.Fatal(err)
	}
	text := func(column string, row int) string { return all.Series[all.Index(column)].Texts[row] }
	arms := 0
	for row := range all.Rows {
		if text("mechanism", row) != "leading-arm-floating-brake" || text("measure", row) != "path_straightness_mm" {
			continue
		}
		arms++
		total, pivot := all.Number(all.Index("total"), row), strings.HasPrefix(text("variable", row), "arm_pivot_")
		if pivot && !(total > 0.02) || !pivot && total != 0 {
			t.Errorf("%s drives the path straightness with %g", text("variable", row), total)
		}
	}
	if arms < 8 {
		t.Errorf("%d variables of arms", arms)
	}
	// Again, with another number of workers, into the same folder: the same bytes.
	before := readBytes(t, filepath.Join(dir, results.SensitivityFile))
	if code, _, said := command(t, "sensitivity", "--out", dir, "--samples", "400", "--workers", "1"); code != process.Done {
		t.Fatalf("exit %d: %s", code, said)
	}
	if !bytes.Equal(before, readBytes(t, filepath.Join(dir, results.SensitivityFile))) {
		t.Error("the number of workers changes the table")
	}
}

// Lateral stiffness takes too long for a search and is sampled only when asked for.
func TestSensitivityOfSlowMeasures(t *testing.T) {
	t.Parallel()
	dir, job := filepath.Join(t.TempDir(), "out"), edited(t, "leading-arm")
	count := func(args ...string) (slow, fast int) {
		want(t, process.Done, append([]string{"sensitivity", job, "--out", dir, "--samples", "100"}, args...)...)
		all, err := table.Read(filepath.Join(dir, results.SensitivityFile))
		if err != nil {
			t.Fatal(err)
		}
		for row, measure := range all.Series[all.Index("measure")].Texts {
			switch measure {
			case "lateral_stiffness_n_per_mm":
				slow++
			case "mass_g":
				fast++
			}
			for _, column := range []string{"first_order_error", "total_error"} {
				if e := all.Number(all.Index(column), row); !(e >= 0 && e < 1) {
					t.Errorf("%s: %s %g", measure, column, e)
				}
			}
		}
		return slow, fast
	}
	if slow, fast := count(); slow != 0 || fast < 5 {
		t.Errorf("%d rows of a slow measure, %d of another", slow, fast)
	}
	if slow, fast := count("--slow"); slow != fast {
		t.Errorf("%d rows of a slow measure, %d of another", slow, fast)
	}
}

func readBytes(t *testing.T, path string) []byte {
	t.Helper()
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return text
}

// A folder with the results of another job is left alone; bad options are refused.
func TestSensitivityRefuses(t *testing.T) {
	t.Parallel()
	dir := filepath.Join(t.TempDir(), "out")
	if code, _, said := command(t, "run", small(t, "300"), "--out", dir); code != process.Done && code != process.Nothing {
		t.Fatalf("exit %d: %s", code, said)
	}
	for _, x := range []struct {
		args []string
		says string
	}{
		{[]string{"--out", dir}, "holds the results of another job"},
		{nil, "--out DIR is required"},
		{[]string{"--out", dir, "--samples", "10"}, "--samples 10; allowed are 100 to 1000000"},
		{[]string{"--out", dir, "--workers", "-1"}, "--workers -1; must be 0 or more"},
	} {
		if code, _, said := command(t, append([]string{"sensitivity"}, x.args...)...); code != process.Input || !strings.Contains(said, x.says) {
			t.Errorf("%v: exit %d, %s", x.args, code, said)
		}
	}
}
