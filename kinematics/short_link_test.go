package kinematics

import (
	"testing"

	"forkfront/kinematics/plane"
	"forkfront/kinematics/topology"
)

// Where the two pivots of a link coincide to within rounding, certain steps are some 1e-8 mm long all the way: the motion must be
// given up rather than followed through the travel. A search reached this layout, since the bounds of the two pivots share a
// corner. A link a tenth of a millimetre long goes through.
func TestALinkOfNoLengthIsGivenUp(t *testing.T) {
	top, err := topology.Parse("c1-c2-13-14-23-3l-4l+1l")
	if err != nil {
		t.Fatal(err)
	}
	m := mustCompile(t, top.Spec())
	at := map[string]plane.Vec[float64]{
		"axle": {Along: 408, Ahead: 38}, "crown_link_1": {Along: -180, Ahead: 45}, "crown_link_2": {Along: -5.939170745257627, Ahead: 100},
		"link_1_link_3": {Along: 119.99999999999994, Ahead: 320}, "link_1_link_4": {Along: 120, Ahead: 110}, "link_2_link_3": {Along: -11.503186731145036, Ahead: 110},
		"link_3_leg": {Along: 120, Ahead: 110}, "link_4_leg": {Along: 119.99999999999994, Ahead: 110},
		"shock_lower": {Along: 71.43904636666468, Ahead: -47.692212179996574}, "shock_upper": {Along: 120, Ahead: 110}, "root": {Along: 36, Ahead: 20},
	}
	layout := make([]plane.Vec[float64], len(m.Points))
	for i, name := range m.Points {
		p, ok := at[name]
		if !ok {
			t.Fatalf("no place for %s", name)
		}
		layout[i] = p
	}
	var mo Motion
	for _, length := range []float64{6e-14, 0.1} {
		layout[m.Point("link_4_leg")].Along = 120 - length
		mo.Sweep(m, cargo(), layout, 100, 33)
		if givenUp := mo.Fault != "" && mo.ReachedMM >= 0 && mo.ReachedMM < 100.0/32; givenUp != (length < 0.1) {
			t.Errorf("a link of %g mm: reached %g mm: %s", length, mo.ReachedMM, mo.Fault)
		}
	}
}
