package report

import (
	"slices"
	"testing"

	"forkfront/objectives"
	"forkfront/objectives/clearance"
)

// Shares of a variance by hand: 3² + 4² against 0² + 5² are half each; nothing scatters without a
// slope, or where a reason says so.
func TestSharesOfTolerances(t *testing.T) {
	half := objectives.Tolerance{Pivots: []objectives.PivotTolerance{{Along: 3, Ahead: -4, Matters: "ahead"}, {Along: 5, Matters: "along"}, {}}}
	if got := shares(&half); !slices.Equal(got, []float64{3*50 + 2, 3*50 + 1, 0}) {
		t.Errorf("shares %v", got)
	}
	if got := shares(&objectives.Tolerance{Pivots: []objectives.PivotTolerance{{}}}); got != nil {
		t.Errorf("no slope gives %v", got)
	}
	half.Why = "no travel"
	if got := shares(&half); got != nil {
		t.Errorf("a measure without a value gives %v", got)
	}
}

// The closest pairs come first, those beside the hub not at all.
func TestGapsOfAPick(t *testing.T) {
	gaps := []clearance.Gap{{Pair: "tyre / crown", GapMM: 9}, {Pair: "hub / blade", GapMM: 1}, {Pair: "arm / shock", GapMM: -2, SteerDeg: 30}}
	for range 20 {
		gaps = append(gaps, clearance.Gap{Pair: "far", GapMM: 50})
	}
	var k packedPick
	k.gaps(gaps)
	if len(k.Gaps) != shownGaps || k.Gaps[0] != (packedGap{Pair: "arm / shock", GapMM: -2, SteerDeg: 30}) || k.Gaps[1].Pair != "tyre / crown" {
		t.Errorf("%+v", k.Gaps)
	}
}
