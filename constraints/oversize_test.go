package constraints

import (
	"math"
	"testing"

	"forkfront/objectives"
	"forkfront/objectives/structure"
	"forkfront/objectives/structure/parts"
)

// What cannot be pumped up counts like what cannot be built, and the worse of the two counts.
func TestPressureCountsLikeSize(t *testing.T) {
	tubes := &structure.Rules{Tubes: parts.TubeRules{MaxDiameterMM: 50}}
	bar, mm := objectives.Index("air_pressure_bar"), objectives.Index("tube_diameter_max_mm")
	for _, x := range []struct {
		bar, holds, mm, want float64 // scales are 5 bar and 10 mm
		measure              int
	}{
		{20, 24, 40, 0, -1},
		{29, 24, 40, 1, bar},
		{29, 0, 40, 0, -1}, // what it holds is not known
		{25, 24, 55, 0.5, mm},
		{34, 24, 55, 2, bar},
	} {
		s := &objectives.Score{Values: make([]float64, len(objectives.Measures)), Missing: make([]string, len(objectives.Measures)), MaxPressureBar: x.holds}
		s.Values[bar], s.Values[mm] = x.bar, x.mm
		if l, by := Beyond(tubes, s); math.Abs(by-x.want) > 1e-12 || by > 0 && l.Measure != x.measure {
			t.Errorf("%+v: %g of measure %d", x, by, l.Measure)
		}
		s.Missing[bar] = "a coil holds no air"
		if _, by := Beyond(tubes, s); by > math.Max(0, (x.mm-50)/10)+1e-12 {
			t.Errorf("%+v: a coil is beyond by %g", x, by)
		}
	}
}

// The defaults, and what they follow: coils of a job's own, a stiffness to size up to.
func TestDefaultsAreOfKnownMeasures(t *testing.T) {
	for _, l := range append(Defaults(nil, 60, objectives.Given{Ride: true, Dampers: true}), Defaults([]float64{30, 20}, 0, objectives.Given{})...) {
		if l.Measure < 0 || !(l.Min <= l.Max) {
			t.Errorf("%+v", l)
		}
	}
	if n, m := len(Defaults(nil, 60, objectives.Given{})), len(Defaults(nil, 0, objectives.Given{})); n != m+1 {
		t.Errorf("%d and %d limits with and without a stiffness", n, m)
	}
	none, damped, sold := len(Defaults(nil, 60, objectives.Given{})), len(Defaults(nil, 60, objectives.Given{Ride: true})), len(Defaults(nil, 60, objectives.Given{Ride: true, Dampers: true}))
	if damped != none+1 || sold != none+2 || len(Defaults(nil, 60, objectives.Given{Dampers: true})) != none {
		t.Errorf("%d limits, %d with a ride section, %d with dampers too", none, damped, sold)
	}
}
