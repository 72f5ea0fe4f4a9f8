package cases

import (
	"maps"
	"math/rand/v2"
	"slices"
	"testing"

	"forkfront/objectives"
	"forkfront/objectives/structure"
	"forkfront/objectives/structure/fatigue"
	"forkfront/objectives/structure/loads"
)

// withTests gives a case test loads and a duty.
func withTests(c *Case) {
	rules := *c.Conditions.Structure
	rules.Proof = &structure.ProofRules{
		Tests: loads.TestPresets["iso-4210-6-mountain"], Joint: fatigue.Notch, Deviations: 2,
		Duty: []loads.Duty{{Case: rules.Cases[0], Cycles: 3e4}, {Case: rules.Cases[1], Cycles: 1e4}},
	}
	conditions := *c.Conditions
	conditions.Structure = &rules
	c.Conditions = &conditions
}

// Derivatives of what the space frame finds against differences, as of other measures. Its solutions have fewer digits, and
// the stiff bushes of slides take some more of them.
func TestSlopesOfTheSpaceFrame(t *testing.T) {
	all := shortCases(t)
	framed := []int{objectives.LateralStiffness, objectives.TorsionalStiffness, objectives.ProofMargin, objectives.FatigueDamage}
	tallies := make([]tally, len(objectives.Measures))
	for _, name := range slices.Sorted(maps.Keys(all)) {
		c := all[name]
		if c.Mechanism.Unsized() != "" || !c.Mechanism.HasShock() {
			continue
		}
		withTests(c)
		d := &differing{p: c.Worker(), other: c.Worker(), framed: framed, blurred: 1e-10}
		if len(c.Mechanism.Slides()) > 0 {
			d.blurred = 1e-8
		}
		r := rand.New(rand.NewPCG(18, 6))
		for tried := 0; ; tried++ {
			x := drawn(c, r)
			if _, missing := d.values(x); missing[objectives.LateralStiffness] == "" {
				d.compare(t, x, tallies)
				break
			}
			if tried == 1000 {
				t.Fatalf("%s: no fork has sizes", name)
			}
		}
	}
	for _, i := range framed {
		n := tallies[i]
		t.Logf("%s: %d derivatives, %d of them at a kink, %d flipped", objectives.At(i).Name, n.checked-n.kinks, n.kinks, n.flips)
		if n.checked-n.kinks < 80 || n.kinks > n.checked/4 || n.flips < 6 {
			t.Errorf("%s: little was shown: %+v", objectives.At(i).Name, n)
		}
	}
}
