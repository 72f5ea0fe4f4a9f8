package jobs

import (
	"encoding/csv"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"forkfront/jobs/process"
)

// byHand is a candidate of a search that was taken out and had its arm's pivot moved by hand: the
// results folder, the candidate's concept file and the file of the changed one.
func byHand(t *testing.T) (dir, taken, changed string) {
	t.Helper()
	dir, out := tinyResults(t), t.TempDir()
	code, said, errs := command(t, "extract", dir, "balanced", "--out", out)
	if code != process.Done {
		t.Fatalf("exit %d: %s", code, errs)
	}
	taken, _, _ = strings.Cut(said, "\n")
	text := regexp.MustCompile(`arm_pivot: \[.*\]`).ReplaceAllString(fileText(t, taken), "arm_pivot: [380.125, -150.5]")
	changed = filepath.Join(t.TempDir(), "by hand.yaml")
	if err := os.WriteFile(changed, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	return dir, taken, changed
}

// A concept file has the table and drawing that the candidate has from which it was taken; one that was
// changed has its own, under its own name.
func TestConceptsExportLikeCandidates(t *testing.T) {
	dir, taken, changed := byHand(t)
	for _, as := range []string{"table", "drawing", "mechanism"} {
		_, want, _ := command(t, "extract", dir, "balanced", "--as", as)
		code, got, said := command(t, "extract", taken, "--as", as)
		if as == "drawing" { // whose second line, a comment, names it
			want, got = afterLines(want, 2), afterLines(got, 2)
		}
		if code != process.Done || got != want || len(want) < 100 {
			t.Errorf("%s: exit %d: %s\nof the concept %s\nof the candidate %s", as, code, said, got, want)
		}
	}
	_, table, _ := command(t, "extract", changed, "--as", "table")
	if rows, err := csv.NewReader(strings.NewReader(table)).ReadAll(); err != nil || !strings.Contains(table, "380.1250,-150.5000,") {
		t.Errorf("%v: the pivot that was moved does not show in %v", err, rows)
	}
	var o, e strings.Builder
	code := Main(t.Context(), process.Env{Args: []string{"extract", "-", "--as", "table"}, In: strings.NewReader(fileText(t, changed)), Out: &o, Err: &e})
	if code != process.Done || o.String() != table {
		t.Errorf("from standard input: exit %d: %s%s", code, o.String(), e.String())
	}
	out := t.TempDir()
	code, said, errs := command(t, "extract", changed, "--out", out)
	if want := filepath.Join(out, "by hand.csv") + "\n" + filepath.Join(out, "by hand.dxf") + "\n" + filepath.Join(out, "by hand.inp") + "\n"; code != process.Done || said != want {
		t.Fatalf("exit %d: %s%s", code, said, errs)
	}
	if drawing := fileText(t, filepath.Join(out, "by hand.dxf")); !strings.Contains(drawing, "(by hand.yaml);") || fileText(t, filepath.Join(out, "by hand.csv")) != table {
		t.Errorf("the drawing does not say of which file it is: %.200s", drawing)
	}
}

func afterLines(text string, n int) string {
	for range n {
		_, text, _ = strings.Cut(text, "\n")
	}
	return text
}

// A file that holds something else is not written over unasked, and nothing beside it is written then.
func TestExtractOverwritesNothingUnasked(t *testing.T) {
	dir, taken, _ := byHand(t)
	out := filepath.Dir(taken)
	if code, _, said := command(t, "extract", dir, "balanced", "--out", out); code != process.Done {
		t.Errorf("files of the same content: exit %d: %s", code, said)
	}
	drawing := strings.TrimSuffix(taken, ".yaml") + ".dxf"
	before := fileText(t, taken)
	edited := before + "# moved by hand\n"
	if err := os.WriteFile(taken, []byte(edited), 0o600); err != nil {
		t.Fatal(err)
	}
	if err := os.Remove(drawing); err != nil {
		t.Fatal(err)
	}
	code, said, errs := command(t, "extract", dir, "balanced", "--out", out)
	if code != process.Input || said != "" || !strings.Contains(errs, taken) || !strings.Contains(errs, "--replace") {
		t.Errorf("exit %d: %s%s", code, said, errs)
	}
	if _, err := os.Stat(drawing); err == nil || fileText(t, taken) != edited {
		t.Errorf("something was written: drawing %v, concept %s", err, fileText(t, taken))
	}
	if code, _, errs := command(t, "extract", dir, "balanced", "--out", out, "--replace"); code != process.Done || fileText(t, taken) != before {
		t.Errorf("exit %d: %s", code, errs)
	}
}

func TestExtractOfAConceptSaysWhatIsWrong(t *testing.T) {
	dir, taken, _ := byHand(t)
	short := filepath.Join(t.TempDir(), "short.yaml")
	text := strings.Replace(fileText(t, "examples/cargo-arm.yaml"), "travel_mm: 100", "travel_mm: 390", 1)
	if err := os.WriteFile(short, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	wrong := filepath.Join(t.TempDir(), "wrong.yaml")
	if err := os.WriteFile(wrong, []byte(strings.Replace(text, "arm_pivot:", "arm_pivto:", 1)), 0o600); err != nil {
		t.Fatal(err)
	}
	for _, x := range []struct {
		args []string
		code int
		says string
	}{
		{[]string{taken}, process.Input, "is already a concept file; --as table, drawing, frame or mechanism"},
		{[]string{taken, "balanced"}, process.Input, "is not a results folder, and a concept file has no candidate \"balanced\""},
		{[]string{"-", "balanced"}, process.Input, "standard input is not a results folder"},
		{[]string{dir}, process.Input, "is a folder; name one of its candidates"},
		{[]string{filepath.Join(dir, "none.yaml")}, process.Input, "no such file"},
		{[]string{wrong, "--as", "table"}, process.Input, "wrong.yaml:"},
		{[]string{short, "--as", "table"}, process.Nothing, "(short.yaml) stops at "},
		{[]string{dir, "balanced", "--replace"}, process.Input, "--replace requires --out"},
		{[]string{dir, "balanced", "--out", taken}, process.Input, "is a file; expected a folder"},
	} {
		if code, out, said := command(t, append([]string{"extract"}, x.args...)...); code != x.code || !strings.Contains(said, x.says) || out != "" {
			t.Errorf("%v: exit %d, %q, %q", x.args, code, out, said)
		}
	}
}

// A fork that stops short is drawn at top-out and where it stops, and the drawing says so. Its table, which has points at
// full travel, is left out.
func TestAForkThatStopsShortIsDrawn(t *testing.T) {
	t.Parallel()
	short := filepath.Join(t.TempDir(), "short.yaml")
	text := strings.Replace(fileText(t, "examples/cargo-arm.yaml"), "travel_mm: 100", "travel_mm: 390", 1)
	if err := os.WriteFile(short, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	code, drawing, said := command(t, "extract", short, "--as", "drawing")
	if code != process.Done || !strings.Contains(drawing, "WHEEL_STOP") || strings.Contains(drawing, "_SAG") || !regexp.MustCompile(`stops at \d+(\.\d+)? of 390 mm of travel`).MatchString(drawing) {
		t.Errorf("exit %d: %s", code, said)
	}
	out := filepath.Join(t.TempDir(), "all")
	code, written, said := command(t, "extract", short, "--out", out)
	if code != process.Done || !strings.Contains(written, "short.dxf") || strings.Contains(written, ".csv") || !strings.Contains(said, "no table: ") {
		t.Errorf("exit %d: %s%s", code, written, said)
	}
}
