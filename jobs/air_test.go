package jobs

import (
	"encoding/json"
	"path/filepath"
	"strings"
	"testing"

	"forkfront/jobs/process"
	"forkfront/results"
	"forkfront/results/table"
)

// airy is the example of an arm on air springs of a bore, in a file.
func airy(t *testing.T, more string) string {
	t.Helper()
	text := strings.Replace(fileText(t, "examples/cargo-arm.yaml"), "stroke_mm: 50", "stroke_mm: 50, spring: air, chamber_mm: 70, "+more, 1)
	if !strings.Contains(text, "spring: air") {
		t.Fatal("the example has another shock than was expected")
	}
	return jobFile(t, text)
}

// The pressure of an air spring is shown, and what it does not hold is said.
func TestPressureIsShownAndLimited(t *testing.T) {
	_, wide, _ := command(t, "score", airy(t, "bore_mm: 40"))
	if strings.Contains(wide, "air_pressure_bar                  bar              –") || strings.Contains(wide, "above the maximum") {
		t.Errorf("a wide air spring: %s", wide)
	}
	_, narrow, _ := command(t, "score", airy(t, "bore_mm: 14"))
	if !strings.Contains(narrow, "above the maximum of 24") {
		t.Errorf("a narrow air spring is pumped up without a word: %s", narrow)
	}
	_, strong, _ := command(t, "score", airy(t, "bore_mm: 14, pressure_max_bar: 500"))
	if strings.Contains(strong, "above the maximum") {
		t.Errorf("a strong air spring: %s", strong)
	}
}

// A search finds no fork whose air spring does not hold its pressure.
func TestSearchKeepsToTheMaximumPressure(t *testing.T) {
	most := func(holds string) (most float64, rows int) {
		text := strings.Replace(strings.Replace(fileText(t, tinyJob(t)), "constraints:\n", "constraints:\n  - {measure: air_pressure_bar, min: 0.1}\n", 1), "stroke_mm: 45}", "stroke_mm: 45, spring: air, bore_mm: 30, chamber_mm: 70, pressure_max_bar: "+holds+"}", 1)
		dir := filepath.Join(t.TempDir(), "out")
		code, _, said := command(t, "run", jobFile(t, text), "--out", dir)
		if code == process.Nothing {
			return 0, 0
		}
		if code != process.Done {
			t.Fatalf("exit %d: %s", code, said)
		}
		front, err := table.Read(filepath.Join(dir, results.FrontFile))
		if err != nil {
			t.Fatal(err)
		}
		for _, x := range front.Series[front.Index("air_pressure_bar")].Floats {
			most = max(most, x)
		}
		return most, front.Rows
	}
	free, rows := most("1000")
	if rows == 0 || !(free > 0) {
		t.Fatalf("%d forks, at most %g bar", rows, free)
	}
	if held, _ := most("5"); held > 5 {
		t.Errorf("%g bar in a spring that holds 5", held)
	}
}

// A chamber that is shorter than the stroke, and one that would have to be below the pressure of the atmosphere, leave a
// fork without a sag: what needs its spring and what is measured at sag has no value, but its leverage has that of the
// same fork on another spring.
func TestWithoutSagOnlyMeasuresThatNeedNoneRemain(t *testing.T) {
	score := func(stroke, chamber, bore string) (values map[string]*float64, reasons map[string]string) {
		text := strings.NewReplacer("stroke_mm: 50", "stroke_mm: "+stroke, "chamber_mm: 70", "chamber_mm: "+chamber).Replace(fileText(t, airy(t, "bore_mm: "+bore)))
		_, out, said := command(t, "score", "--json", jobFile(t, text))
		var all struct {
			Measures map[string]*float64
			Reasons  map[string]string
		}
		if err := json.Unmarshal([]byte(out), &all); err != nil {
			t.Fatalf("%v: %s%s", err, out, said)
		}
		return all.Measures, all.Reasons
	}
	whole, _ := score("50", "70", "40")
	for what, x := range map[string][3]string{
		"air chamber's": {"20", "30", "40"},
		"too large":     {"50", "70", "300"},
	} {
		got, reasons := score(x[0], x[1], x[2])
		for _, name := range []string{"leverage_start", "leverage_end", "leverage_min", "leverage_max", "progression_pct", "leverage_band_error_pct", "trail_variation_mm", "anti_dive_min_pct"} {
			if got[name] == nil || whole[name] == nil || *got[name] != *whole[name] {
				t.Errorf("%s: %s is %v: %s", what, name, got[name], reasons[name])
			}
		}
		for _, name := range []string{"anti_dive_at_sag_pct", "tolerance_anti_dive_at_sag_pct", "trail_at_sag_mm", "wheel_rate_at_sag_n_per_mm", "brake_dive_mm", "air_pressure_bar"} {
			if whole[name] == nil || got[name] != nil || !strings.Contains(reasons[name], what) {
				t.Errorf("%s: %s is %v: %q", what, name, got[name], reasons[name])
			}
		}
	}
}
