package jobs

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"forkfront/jobs/process"
	"forkfront/results"
	"forkfront/results/table"
)

// The front as its reader gets it: both mechanisms, each row allowed and none beaten by another of
// its search.
func checkFront(t *testing.T, path string) {
	t.Helper()
	front, err := table.Read(path)
	if err != nil {
		t.Fatal(err)
	}
	mechanisms, cases := front.Series[front.Index("mechanism")].Texts, front.Series[front.Index("case")].Texts
	count := map[string]int{}
	var objectives, outside [][]float64
	for i, c := range front.Columns {
		switch c.Source {
		case "objective":
			objectives = append(objectives, front.Series[i].Floats)
		case "constraint":
			outside = append(outside, front.Series[i].Floats)
		}
	}
	if len(objectives) < 2 || len(outside) == 0 {
		t.Fatalf("%d objectives and %d constraints", len(objectives), len(outside))
	}
	for row := range front.Rows {
		count[mechanisms[row]]++
		for _, o := range outside {
			if o[row] > 0 {
				t.Fatalf("row %d is outside a limit by %g", row, o[row])
			}
		}
		for other := range front.Rows {
			if cases[other] == cases[row] && beats(objectives, other, row) {
				t.Fatalf("row %d beats row %d", other, row)
			}
		}
	}
	if front.Rows < 100 || len(count) != 2 {
		t.Errorf("%d rows over %v", front.Rows, count)
	}
	for name, n := range count {
		if n < 20 {
			t.Errorf("%s has %d rows", name, n)
		}
	}
}

// beats tells whether row a is nowhere worse than row b and somewhere better.
func beats(objectives [][]float64, a, b int) bool {
	better := false
	for _, o := range objectives {
		if o[a] > o[b] {
			return false
		}
		better = better || o[a] < o[b]
	}
	return better
}

// The demo's girder has its shafts run through from side to side: none may come nearer to the tyre
// than 11 mm with its own radius of 9, at any travel.
func checkShafts(t *testing.T, path string) {
	t.Helper()
	front, err := table.Read(path)
	if err != nil {
		t.Fatal(err)
	}
	const axleAlong, axleAhead, keep = 408 - 100, 38, 258 + 9 + 11
	for _, point := range []string{"lower_rear", "upper_rear"} { // fixed, so that full travel is the tightest
		along, ahead := front.Series[front.Index(point+"_along_mm")], front.Series[front.Index(point+"_ahead_mm")]
		seen := 0
		for row := range front.Rows {
			if along.Nulls[row] {
				continue
			}
			seen++
			if d := math.Hypot(along.Floats[row]-axleAlong, ahead.Floats[row]-axleAhead); d < keep {
				t.Fatalf("row %d: %s is %.1f mm from the axle at full travel", row, point, d)
			}
		}
		if seen == 0 {
			t.Errorf("no row has a %s", point)
		}
	}
}

// Links too short for the travel: all that there is, the travel reached, reasons, and exit 3.
func TestAConceptThatStopsShort(t *testing.T) {
	text, err := os.ReadFile("examples/cargo-low-four-bar.yaml")
	if err != nil {
		t.Fatal(err)
	}
	short := strings.Replace(string(text), "travel_mm: 100", "travel_mm: 300", 1)
	if short == string(text) {
		t.Fatal("the example states its travel otherwise")
	}
	path := filepath.Join(t.TempDir(), "short.yaml")
	if err := os.WriteFile(path, []byte(short), 0o644); err != nil {
		t.Fatal(err)
	}
	code, out, said := command(t, "score", path, "--json")
	if code != process.Nothing || !strings.Contains(out, `"trail_variation_mm": null`) || !strings.Contains(out, "reached") {
		t.Errorf("exit %d: %s %s", code, said, out)
	}
	if strings.Contains(out, "NaN") {
		t.Error("NaN in the output")
	}
}

func TestEveryExampleConceptScores(t *testing.T) {
	files, _ := filepath.Glob("examples/*.yaml")
	scored := 0
	for _, path := range files {
		text, err := os.ReadFile(path)
		if err != nil || !strings.Contains("\n"+string(text), "\nconcept:") {
			continue
		}
		if code, out, said := command(t, "score", path, "--json", "--job", "examples/demo.yaml"); code != process.Done || !strings.Contains(out, `"violations"`) && !strings.Contains(out, `"objectives"`) {
			t.Errorf("%s: exit %d: %s", path, code, said)
		}
		scored++
	}
	if scored < 6 {
		t.Errorf("only %d concepts", scored)
	}
}

// fronts are the rows of every case as text.
func fronts(t *testing.T, dir string) map[string][]byte {
	t.Helper()
	front, err := table.Read(filepath.Join(dir, results.FrontFile))
	if err != nil {
		t.Fatal(err)
	}
	rows := map[string][]byte{}
	of := front.Series[front.Index("case")].Texts
	for row := range front.Rows {
		for i, c := range front.Columns {
			if c.Name == "on_bike_front" || c.Name == "run" {
				continue // know the others
			}
			s := &front.Series[i]
			switch {
			case front.Null(i, row):
				rows[of[row]] = fmt.Appendf(rows[of[row]], " null")
			case c.Kind == table.Float:
				rows[of[row]] = fmt.Appendf(rows[of[row]], " %x", s.Floats[row])
			case c.Kind == table.Text:
				rows[of[row]] = fmt.Appendf(rows[of[row]], " %s", s.Texts[row])
			}
		}
	}
	return rows
}
