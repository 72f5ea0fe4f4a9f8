package results

import (
	"strings"
	"testing"
	"time"

	"forkfront/objectives"
	"forkfront/results/record"
	"forkfront/results/report"
)

func hopeless() record.Case {
	sixty, most := 60.0, 3000.0
	return record.Case{
		Name: "cargo/girder/1", Stop: "evaluations", Evaluations: 600,
		Constraints: []record.Constraint{{Measure: "clearance_mm", Min: &sixty}, {Measure: "mass_g", Max: &most, Default: true}},
		Violated:    map[string]int{"mass_g": 150, "clearance_mm": 600, "works": 3},
	}
}

// A report of nothing says what ran and why nothing was found, and has no empty pictures and tables.
func TestReportOfNothing(t *testing.T) {
	f := opened(t)
	goalFront(t, f, []objectives.Goal{measureGoal("mass_g", objectives.Smallest)}, [][]float64{{}}, true)
	r := record.New(time.Now())
	r.Cases = []record.Case{hopeless()}
	if err := f.WriteRun(&r); err != nil {
		t.Fatal(err)
	}
	if err := f.WriteReport(report.Forks{}, 1); err != nil {
		t.Fatal(err)
	}
	page := readText(t, f.Path(ReportFile))
	for _, says := range []string{"No candidate: none of 600 evaluations met every limit.", "why nothing was found", "none of 600 evaluations met", "<td>150 (25\u00a0%)</td>", "A candidate has to meet: clearance at least 60 mm", "ISO 4210-6"} {
		if !strings.Contains(page, says) {
			t.Errorf("the page does not say %q", says)
		}
	}
	for _, empty := range []string{"none is dominated", "<script", "<select", "<button", "noscript", `id="front"`, `id="begin"`, `id="table"`, `id="chosen"`, `href="#`} {
		if strings.Contains(page, empty) {
			t.Errorf("the page has %q", empty)
		}
	}
}
