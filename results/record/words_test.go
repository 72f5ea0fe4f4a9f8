package record

import (
	"reflect"
	"strings"
	"testing"
)

func hopeless() Case {
	sixty, most := 60.0, 3000.0
	return Case{
		Name: "cargo/girder/1", Stop: "evaluations", Evaluations: 600,
		Constraints: []Constraint{{Measure: "clearance_mm", Min: &sixty}, {Measure: "mass_g", Max: &most, Default: true}},
		Violated:    map[string]int{"mass_g": 150, "clearance_mm": 600, works: 3},
	}
}

// Shares by hand: 600, 150 and 3 of 600.
func TestFailuresListLimitsAndShares(t *testing.T) {
	c := hopeless()
	want := []Failure{
		{"clearance at least 60 mm", "600 (100\u00a0%)"},
		{"mass at most 3000 g by default", "150 (25\u00a0%)"},
		{"a working fork: full travel, and parts that can be built", "3 (0.5\u00a0%)"},
	}
	if got := c.Failures(); !reflect.DeepEqual(got, want) {
		t.Errorf("%q, want %q", got, want)
	}
}

func TestImpasse(t *testing.T) {
	never, some, silent, none := hopeless(), hopeless(), hopeless(), Case{}
	some.Violated["clearance_mm"]--
	silent.Violated = nil
	for _, x := range []struct {
		c    *Case
		says string
	}{
		{&never, "none of 600 evaluations met “clearance at least 60 mm”; relax the limits"},
		{&some, "each limit was met by some evaluations, but no evaluation met all of them"},
		{&silent, "no fork within its bounds and limits works"},
		{&none, "it evaluated no candidate"},
	} {
		if got := x.c.Impasse(); !strings.HasPrefix(got, "nothing feasible found: "+x.says) {
			t.Errorf("%q, want %q", got, x.says)
		}
	}
}

func TestMostViolated(t *testing.T) {
	c := Case{Evaluations: 200, Violated: map[string]int{works: 199, "mass_g": 20, "clearance_mm": 20, "trail_mm": 1}}
	if got, want := c.MostViolated(3), "does not work (100 %), clearance (10 %), mass (10 %)"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	if got := (&Case{}).MostViolated(3); got != "" {
		t.Errorf("nothing violated: %q", got)
	}
}

func TestConstraintsInWords(t *testing.T) {
	six, ten := 6.0, 10.0
	cases := []Case{
		{Constraints: []Constraint{{Measure: "clearance_mm", Min: &six}, {Measure: "path_inclination_deg", Min: &six, Max: &ten}}},
		{Constraints: []Constraint{{Measure: "clearance_mm", Min: &six}, {Measure: "mass_g", Max: &ten, Default: true}, {Measure: "spring_rate_n_per_mm", Min: &six, Coils: true}}},
	}
	want := []string{"clearance at least 6 mm", "path inclination 6 to 10 deg (1 of 2 searches)", "mass at most 10 g by default (1 of 2 searches)", "spring rate at least 6 N/mm of coils (1 of 2 searches)"}
	if got := ConstraintsInWords(cases); !reflect.DeepEqual(got, want) {
		t.Errorf("%q, want %q", got, want)
	}
}
