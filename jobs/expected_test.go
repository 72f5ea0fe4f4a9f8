package jobs

import (
	"encoding/json"
	"fmt"
	"math"
	"strings"
	"testing"

	"forkfront/jobs/process"
	"forkfront/jobs/score"
)

// expectedOf scores a text of a concept without a job: what its JSON has, and the table.
func expectedOf(t *testing.T, text string) (*score.Scored, string) {
	t.Helper()
	path := jobFile(t, text)
	_, out, said := command(t, "score", path, "--json")
	var s score.Scored
	if err := json.Unmarshal([]byte(out), &s); err != nil {
		t.Fatalf("%v: %s", err, said)
	}
	_, table, _ := command(t, "score", path)
	return &s, table
}

// shorter is the cargo girder with a shock of less stroke, 46 mm, than the 47.6 mm that it uses.
func shorter(t *testing.T) (was, is string) {
	was = fileText(t, "examples/cargo-girder.yaml")
	is = strings.Replace(was, "stroke_mm: 50", "stroke_mm: 46", 1)
	if was == is {
		t.Fatal("the girder's shock is another than was expected")
	}
	return was, is
}

// A fork is held to what practice expects without a job, in words and in JSON.
func TestScoreListsViolatedExpectedLimits(t *testing.T) {
	was, is := shorter(t)
	s, table := expectedOf(t, was)
	if len(s.Violations) != 0 || s.Violations == nil || s.Objectives != nil || !strings.Contains(table, "\nall default limits are met, and no parts overlap\n") {
		t.Errorf("a fork that keeps all: %v\n%s", s.Violations, table)
	}
	s, table = expectedOf(t, is)
	over := *s.Measures["shock_stroke_used_mm"]/46*100 - 100 // %; the limit is 100 %
	if v := s.Violations["shock_stroke_used_pct"]; len(s.Violations) != 1 || v == nil || math.Abs(*v-over) > 1e-9 || over < 3 {
		t.Errorf("stroke over by %g %%: %v", over, s.Violations)
	}
	if !strings.Contains(table, fmt.Sprintf("\nviolated limit, shock stroke used (shock_stroke_used_pct): %.4g %%, %.4g %% above the maximum of 100 %%\n", 100+over, over)) || strings.Contains(table, "are met") {
		t.Errorf("%s", table)
	}
	// Coils on sale and the stiffness asked for are those of the fork's own file.
	s, _ = expectedOf(t, was+"coil_rates_n_per_mm: [60, 90]\nstructure: {fore_aft_stiffness_n_per_mm: 0}\n")
	if v := s.Violations["spring_rate_n_per_mm"]; v == nil || math.Abs(*v-(*s.Measures["spring_rate_n_per_mm"]-90)) > 1e-9 {
		t.Errorf("coils to 90 N/mm: %v", s.Violations)
	}
	// A shock that the file does not speak of has a coil.
	s, _ = expectedOf(t, strings.Replace(was, "\nshock: {", "\n# shock: {", 1)+"coil_rates_n_per_mm: [60, 90]\n")
	if v := s.Violations["spring_rate_n_per_mm"]; v == nil || *v <= 0 {
		t.Errorf("coils to 90 N/mm for a shock that is not spoken of: %v", s.Violations)
	}
	// An air spring is not sold by its rate.
	air := strings.Replace(was, "stroke_mm: 50", "stroke_mm: 50, spring: air, bore_mm: 60, chamber_mm: 90", 1) + "coil_rates_n_per_mm: [60, 90]\n"
	if s, table = expectedOf(t, air); s.Measures["air_pressure_bar"] == nil {
		t.Fatalf("no air spring: %s", table)
	}
	if _, broken := s.Violations["spring_rate_n_per_mm"]; broken {
		t.Errorf("a rate is asked of an air spring: %v", s.Violations)
	}
}

// Parts in each other's place are named, with the pair that is the farthest in.
func TestScoreListsOverlappingParts(t *testing.T) {
	was, _ := shorter(t)
	lamp := strings.Replace(was, "package:\n", "package:\n  keep_out:\n    - {name: lamp, on: steerer, from_mm: [-100, 80, 0], to_mm: [-100, 80, 50], radius_mm: 30}\n", 1)
	s, table := expectedOf(t, lamp)
	worst := s.Clearances[0]
	v := s.Violations["clearance_mm"]
	if v == nil || worst.GapMM >= 0 || *v != -worst.GapMM || !strings.Contains(worst.Pair, "lamp") {
		t.Fatalf("%v, closest %+v\n%s", s.Violations, worst, table)
	}
	if !strings.Contains(table, "\nparts overlap, "+worst.Pair+" by ") || strings.Contains(table, "violated limit, clearance (clearance_mm)") {
		t.Errorf("%s", table)
	}
}

// A fork without the values says that once, and one that stops short why; no limit is asked of a measure
// that its mechanism has not.
func TestExpectedLimitsWithoutAValue(t *testing.T) {
	stuck := strings.Replace(fileText(t, "examples/cargo-girder.yaml"), "shock_upper: [", "shock_upper: [500, 0] # [", 1)
	s, table := expectedOf(t, stuck)
	if v, broken := s.Violations["spring_rate_n_per_mm"]; !broken || v != nil || strings.Count(table, "so its limit is not met: ") != 1 || strings.Contains(table, "no value: ") {
		t.Errorf("%v\n%s", s.Violations, table)
	}
	short := strings.Replace(fileText(t, "examples/cargo-arm.yaml"), "travel_mm: 100", "travel_mm: 390", 1)
	if s, table = expectedOf(t, short); s.Reasons["works"] == "" || !strings.Contains(table, "\nthe fork does not work: "+s.Reasons["works"]+"\n") {
		t.Errorf("%v\n%s", s.Reasons, table)
	}
	bare := memberless(t, "telescopic-link")
	s, table = expectedOf(t, strings.Replace(fileText(t, "examples/cargo-telescopic-link.yaml"), "mechanism: telescopic-link", "mechanism: "+bare, 1))
	for _, name := range []string{"clearance_mm", "fore_aft_stiffness_n_per_mm"} {
		if _, asked := s.Violations[name]; asked || strings.Contains(table, "overlap") {
			t.Errorf("%s is asked of bodies without members\n%s", name, table)
		}
	}
}

// A table of before and after says where a limit is broken, still broken or kept again.
func TestBeforeAndAfterListCrossedLimits(t *testing.T) {
	textWas, textIs := shorter(t)
	was, is := jobFile(t, textWas), jobFile(t, textIs)
	for _, x := range []struct{ before, after, says string }{
		{was, is, "now violates its limit, 88 to 100 %"},
		{is, was, "now meets its limit, 88 to 100 %"},
		{is, is, "still violates its limit, 88 to 100 %"},
		{was, was, ""},
	} {
		code, out, said := command(t, "score", x.after, "--before", x.before)
		line := lineOf(out, "shock_stroke_used_pct")
		if code != process.Done || !strings.HasSuffix(line, x.says) || strings.Count(out, "its limit") != strings.Count(x.says, "its limit") {
			t.Errorf("%s: exit %d: %s%s", x.says, code, line, said)
		}
	}
}

// lineOf is the first line that begins so.
func lineOf(text, with string) string {
	for _, line := range strings.Split(text, "\n") {
		if strings.HasPrefix(line, with) {
			return line
		}
	}
	return ""
}
