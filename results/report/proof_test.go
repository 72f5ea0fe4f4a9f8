package report

import (
	"strings"
	"testing"

	"forkfront/objectives/structure/loads"
	"forkfront/objectives/structure/spaceframe"
	"forkfront/results/display"
)

// Candidates under the same tests stand side by side, the least margin and the damage first. What is below 1, or has more
// damage than 1, is marked; what has no value says why; a source is named once; an impact is a bound.
func TestProofTable(t *testing.T) {
	bending := spaceframe.TestResult{Test: "bending", Kind: loads.ReversedTest, LoadN: 650, Cycles: 1e5, Part: "legs a–b", Side: "brake", Margin: 0.8, Basis: "as given", AllowedBy: "curve"}
	fall := spaceframe.TestResult{Test: "fall", Kind: loads.ImpactTest, LoadN: 3000, Part: "crown", Side: "other", Margin: 1.3, Basis: "as given", AllowedBy: "yield"}
	unknown := bending
	unknown.Margin, unknown.AllowedBy, unknown.Missing = 0, "", "no curve"
	table := newProofTable([]string{"x", "y"}, []*spaceframe.Proof{
		{Results: []spaceframe.TestResult{bending, fall}, Margin: 0.8, Damage: 3, Assumed: "walls"},
		{Results: []spaceframe.TestResult{unknown, fall}, Missing: "no curve", MissingDamage: "no curve", Assumed: "walls"},
	})
	var got strings.Builder
	for _, r := range table.Rows {
		got.WriteString(r.Name + " [" + r.Doc + "]")
		for _, c := range r.Cells {
			got.WriteString(" | " + c.Value + " " + c.Where)
			if c.Short {
				got.WriteString(" !")
			}
		}
		got.WriteString("\n")
	}
	want := `least margin [of tubes in static and fatigue tests] | 0.8  ! | – no curve
damage [sum of cycles over the cycles withstood (Palmgren and Miner); failure is expected at 1] | 3  ! | – no curve
bending [reversed, 650 N, 100000 cycles] | 0.8 legs a–b, brake side ! | – no curve
fall [impact] | 1.3 crown, other side; elastic: a bound | 1.3 crown, other side; elastic: a bound
`
	if got.String() != want {
		t.Errorf("got\n%swant\n%s", got.String(), want)
	}
	if s := strings.Join(table.Sources, "; "); s != "Load by as given; Allowed by curve; Allowed by yield" || table.Not != display.Unproved || table.Assumed != "walls" {
		t.Errorf("sources %q, assumed %q", s, table.Assumed)
	}
}
