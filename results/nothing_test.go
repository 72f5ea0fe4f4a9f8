package results

import (
	"reflect"
	"strings"
	"testing"
	"time"

	"forkfront/objectives"
)

func hopeless() CaseRecord {
	sixty, most := 60.0, 3000.0
	return CaseRecord{
		Name: "cargo/girder/1", Stop: "evaluations", Evaluations: 600,
		Constraints: []ConstraintRecord{{Measure: "clearance_mm", Min: &sixty}, {Measure: "mass_g", Max: &most, Default: true}},
		Broken:      map[string]int{"mass_g": 150, "clearance_mm": 600, works: 3},
	}
}

// Shares by hand: 600, 150 and 3 of 600.
func TestFailuresSayLimitsAndShares(t *testing.T) {
	c := hopeless()
	want := []failure{
		{"clearance at least 60 mm", "600 (100\u00a0%)"},
		{"mass at most 3000 g by default", "150 (25\u00a0%)"},
		{"working at all: moving through the whole travel, of parts that can be built", "3 (0.5\u00a0%)"},
	}
	if got := c.failures(); !reflect.DeepEqual(got, want) {
		t.Errorf("%q, want %q", got, want)
	}
}

func TestImpasse(t *testing.T) {
	never, some, silent, none := hopeless(), hopeless(), hopeless(), CaseRecord{}
	some.Broken["clearance_mm"]--
	silent.Broken = nil
	for _, x := range []struct {
		c    *CaseRecord
		says string
	}{
		{&never, "none of 600 evaluations met “clearance at least 60 mm”; loosen"},
		{&some, "each limit was met by some of its evaluations, but all of them by none"},
		{&silent, "its bounds or limits leave no fork that works"},
		{&none, "it evaluated no candidate"},
	} {
		if got := x.c.impasse(); !strings.HasPrefix(got, "nothing feasible found: "+x.says) {
			t.Errorf("%q, want %q", got, x.says)
		}
	}
}

// A report of nothing says what ran and why nothing was found, and has no empty pictures and tables.
func TestReportOfNothing(t *testing.T) {
	f := opened(t)
	goalFront(t, f, []objectives.Goal{measureGoal("mass_g", objectives.Smallest)}, [][]float64{{}}, true)
	r := NewRunRecord(time.Now())
	r.Cases = []CaseRecord{hopeless()}
	if err := f.WriteRun(&r); err != nil {
		t.Fatal(err)
	}
	if err := f.WriteReport(nil, 1); err != nil {
		t.Fatal(err)
	}
	page := readText(t, f.Path(ReportFile))
	for _, says := range []string{"No candidate: none of 600 evaluations met every limit.", "why nothing was found", "none of 600 evaluations met", "<td>150 (25\u00a0%)</td>", "A candidate has to keep: clearance at least 60 mm", "ISO 4210-6"} {
		if !strings.Contains(page, says) {
			t.Errorf("the page does not say %q", says)
		}
	}
	for _, empty := range []string{"none is beaten", "<script", "<select", "<button", "noscript", `id="front"`, `id="begin"`, `id="table"`, `id="chosen"`, `href="#`} {
		if strings.Contains(page, empty) {
			t.Errorf("the page has %q", empty)
		}
	}
}
