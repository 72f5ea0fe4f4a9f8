package structure

import (
	"forkfront/objectives/fork"
	"forkfront/objectives/structure/fatigue"
	"forkfront/objectives/structure/loads"
)

// ProofRules are the test loads that a sized fork is checked against, what it has to bear in its life, and how its joints
// are made.
type ProofRules struct {
	Tests      []loads.Test
	Duty       []loads.Duty
	Events     []loads.DutyEvent // of the duty too
	Joint      fatigue.Joint
	WeldClass  float64 // of welds, MPa at two million cycles; 0: the usual one of the material
	Deviations float64 // standard deviations of the life by which fatigue margins stay below the median
}

// Allowed is the stress in MPa that tubes may have under a test and by which word, or why it is not known.
func (r *Rules) Allowed(t *loads.Test, m *fork.Material) (stress float64, by, missing string) {
	p := r.Proof
	if !t.Repeats() {
		stress, by = m.YieldMPa*fatigue.YieldLeft(m.Name, p.Joint), "yield"
		if thin := r.Tubes.LocalBucklingMPa(m); thin < stress {
			stress, by = thin, "buckling of the wall, NASA SP-8007, from memory"
		}
		return stress, by, ""
	}
	curve, missing := fatigue.Of(m.Name, p.Joint, p.WeldClass)
	if missing != "" {
		return 0, "", missing
	}
	return curve.Stress(t.Cycles, t.Ratio(), p.Deviations), curve.Source(), ""
}

// SizeForTests adds the tests, except impacts, to the load cases that tubes are sized for.
func (r *Rules) SizeForTests() {
	for i := range r.Proof.Tests {
		if t := &r.Proof.Tests[i]; t.Kind != loads.ImpactTest {
			r.Cases = append(r.Cases, t.AsCase())
		}
	}
}

// proofReserve is what sizing for tests aims above a margin of 1, and oneSidedReserve the same of forks with a body on one side
// only: sizes share loads between the sides with errors of up to 1 %, or of such forks 3 % and on searched fronts, which find the
// least of them, 4.2 %.
const (
	proofReserve    = 1.03
	oneSidedReserve = 1.05
)

// severities are factors on the stresses of each load case, so that tubes of a material that are sized for the stress
// allowed in load cases have the one allowed in tests; 1 for what is no test.
func (r *Rules) severities(dst []float64, m *fork.Material, oneSided bool) (all []float64, missing string) {
	reserve := proofReserve
	if oneSided {
		reserve = oneSidedReserve
	}
	for i := range r.Cases {
		by := 1.0
		if t := r.Cases[i].Test; t != nil {
			stress, _, missing := r.Allowed(t, m)
			if missing != "" {
				return nil, missing
			}
			by = reserve * r.Tubes.StrengthMPa(m) / r.Tubes.Safety / stress
		}
		dst = append(dst, by)
	}
	return dst, ""
}
