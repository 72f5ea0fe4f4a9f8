package constraints

import (
	"math"
	"strings"
	"testing"

	"forkfront/objectives"
)

func scored(x float64) (*objectives.Score, int) {
	i := objectives.Index("transmission_angle_min_deg")
	s := &objectives.Score{Values: make([]float64, len(objectives.Measures)), Missing: make([]string, len(objectives.Measures))}
	s.Values[i] = x
	return s, i
}

func TestAmountIsSignedAndScaled(t *testing.T) {
	for _, x := range []struct {
		value, min, max, want float64
		says                  string
	}{
		{30, 35, math.Inf(1), 0.25, "below"}, // 5 of a scale of 20
		{35, 35, math.Inf(1), 0, ""},
		{45, 35, math.Inf(1), -0.5, ""},
		{70, 35, 60, 0.5, "above"},
		{40, 35, 60, -0.25, ""}, // the nearer end counts
	} {
		s, i := scored(x.value)
		l := Limit{i, x.min, x.max}
		if got := l.Amount(s); got != x.want {
			t.Errorf("%g in [%g, %g]: %g, want %g", x.value, x.min, x.max, got, x.want)
		}
		if says := l.Violation(s); (says == "") != (x.says == "") || !strings.Contains(says, x.says) {
			t.Errorf("%g in [%g, %g] says %q", x.value, x.min, x.max, says)
		}
	}
}

func TestDesignsThatStopShortAreGraded(t *testing.T) {
	s, i := scored(0)
	s.Missing[i], s.Fault = "stops", "stops"
	l := At(i)
	if l.Amount(s) <= 0 || l.Violation(s) == "" {
		t.Error("a measure without a value must break its limit")
	}
	s.ReachedMM = 20
	worse := Works(s, 100)
	s.ReachedMM = 80
	if better := Works(s, 100); !(better > 0 && better < worse) {
		t.Errorf("reaching 80 mm gives %g, 20 mm %g", better, worse)
	}
}

// A load of several tons is said in plain digits.
func TestLargeAmountsHaveNoExponent(t *testing.T) {
	s, _ := scored(0)
	l := Limit{objectives.Index("bearing_load_max_n"), math.Inf(-1), 12000}
	s.Values[l.Measure] = 23500
	if says := l.Violation(s); says != "largest bearing load (bearing_load_max_n): 23500 N, 11500 N above the maximum of 12000 N" {
		t.Errorf("says %q", says)
	}
}
