package jobs

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"forkfront/jobs/process"
	"forkfront/jobs/score"
	"forkfront/jobs/tuning"
	"forkfront/jobs/words"
)

// The concept that tune writes is scored with the coil on sale, at the same sag, and with the events that tune shows; a concept
// whose mechanism is a file beside it names that file from where it is written.
func TestTunedConceptScoresAsPrinted(t *testing.T) {
	t.Parallel()
	out := filepath.Join(t.TempDir(), "tuned.yaml")
	code, printed, said := command(t, "tune", "examples/trail-girder.yaml", "--weights", "ripple_braked.load_pct=1", "--mass-kg", "80", "--out", out)
	if code != process.Done {
		t.Fatalf("exit %d: %s", code, said)
	}
	code, text, said := command(t, "score", out, "--json")
	if code != process.Done {
		t.Fatalf("exit %d: %s", code, said)
	}
	var scored score.Scored
	if err := json.Unmarshal([]byte(text), &scored); err != nil {
		t.Fatal(err)
	}
	if step := *scored.Measures["coil_step_error_n_per_mm"]; step > 1e-9 {
		t.Errorf("the coil is %g N/mm off", step)
	}
	compared := 0
	for _, line := range strings.Split(printed, "\n") {
		cells := strings.Fields(line)
		if len(cells) < 8 || scored.Events[cells[0]] == nil || scored.Events[cells[0]][cells[1]] == nil {
			continue
		}
		compared++
		tuned := cells[len(cells)-3]
		if got := words.Shown(scored.Events[cells[0]][cells[1]]); got != tuned {
			t.Errorf("%s %s: %s, printed %s", cells[0], cells[1], got, tuned)
		}
	}
	if compared < 20 {
		t.Errorf("%d values compared", compared)
	}
	if code, _, said := command(t, "tune", "examples/trail-girder.yaml", "--out", out); code != process.Input || !strings.Contains(said, "exists") {
		t.Errorf("exit %d: %s", code, said)
	}
}

// Wrong usage, and forks without anything to tune, say so.
func TestTuneSaysWhatIsWrong(t *testing.T) {
	t.Parallel()
	text := fileText(t, "examples/trail-girder.yaml")
	write := func(pairs ...string) string {
		path := filepath.Join(t.TempDir(), "concept.yaml")
		if err := os.WriteFile(path, []byte(strings.NewReplacer(pairs...).Replace(text)), 0o600); err != nil {
			t.Fatal(err)
		}
		return path
	}
	for _, x := range []struct {
		args []string
		code int
		says string
	}{
		{[]string{"examples/trail-girder.yaml", "--weights", "bump.load=1"}, process.Input, `--weights: "bump.load" is no quantity of an event`},
		{[]string{"examples/trail-girder.yaml", "--mass-kg", "-4"}, process.Input, "must be more than 0"},
		{[]string{"examples/cargo-girder.yaml"}, process.Input, "without a ride section"},
		{[]string{write("preload_range_mm: [0, 5]", "coil_rates_n_per_mm: [1, 2000]")}, process.Nothing, "no coil on sale"},
		{[]string{write("preload_range_mm: [0, 5]", "preload_range_mm: [5, -1]")}, process.Input, "preload_range_mm: lower bound 5 is above upper bound -1"},
	} {
		if code, _, said := command(t, append([]string{"tune"}, x.args...)...); code != x.code || !strings.Contains(said, x.says) {
			t.Errorf("%v: exit %d: %s", x.args, code, said)
		}
	}
}

// The page lists what counts, with its weight.
func TestTunePageListsTheWeights(t *testing.T) {
	page := fileText(t, "docs/tune.md")
	for _, a := range tuning.Usual {
		if row := "| `" + a.Name() + "` | " + words.Shown(&a.Weight) + " |"; !strings.Contains(page, row) {
			t.Errorf("no row %s", row)
		}
	}
	if rows := strings.Count(page, "\n| `"); rows != len(tuning.Usual) {
		t.Errorf("%d rows for %d aims", rows, len(tuning.Usual))
	}
}
