package structure

import (
	"math"

	"forkfront/objectives/ride"
	"forkfront/objectives/structure/fatigue"
	"forkfront/objectives/structure/frame"
)

// TestResult is what a test asks of a fork: of the tube that it stresses most.
type TestResult struct {
	Test       string   `json:"test"`
	Kind       TestKind `json:"kind"`
	LoadN      float64  `json:"load_n"` // the larger of rearward and along; of an impact what its energy leads to
	Cycles     float64  `json:"cycles,omitempty"`
	Part       string   `json:"part"`
	Side       string   `json:"side"` // the caliper's or the other one
	StressMPa  float64  `json:"stress_mpa"`
	AllowedMPa float64  `json:"allowed_mpa,omitempty"`
	Margin     float64  `json:"margin,omitempty"`  // allowed stress over stress
	Missing    string   `json:"missing,omitempty"` // why there is no margin
	Basis      string   `json:"basis"`             // where the load comes from
	AllowedBy  string   `json:"allowed_by,omitempty"`
}

// Proof is a sized fork under all test loads.
type Proof struct {
	Results []TestResult `json:"tests"`
	Margin  float64      `json:"least_margin"` // of static and fatigue tests
	Damage  float64      `json:"damage"`       // Miner's sum of all fatigue tests at the worst tube of one side
	Missing string       `json:"missing,omitempty"`
}

// Prove checks a sized fork against the test loads of its rules, by the space frame with the shock locked: the stress
// N/A + √(M² + ¾ T²)/Z at both ends of each tube on each side. Static margins are on the yield strength, fatigue margins
// on the stress that the joints withstand for the cycles of the test. It returns nil where the rules have no tests.
func Prove(z *Sized[float64]) *Proof {
	rules := z.rules.Proof
	if rules == nil || len(rules.Tests) == 0 {
		return nil
	}
	p := &Proof{Margin: math.Inf(1)}
	frames := stanceFrames{z: z}
	var damage [2][]float64
	for side := range damage {
		damage[side] = make([]float64, len(z.Members))
	}
	for i := range rules.Tests {
		test := &rules.Tests[i]
		f := frames.at(test.At)
		if f == nil {
			return &Proof{Missing: "the space frame is loose"}
		}
		r := TestResult{Test: test.Name, Kind: test.Kind, Cycles: test.Cycles, Basis: test.Source}
		stress := f.under(test, &r)
		r.AllowedMPa, r.AllowedBy, r.Missing = rules.allowed(test, z.material)
		switch {
		case r.Missing != "":
			p.Missing = r.Missing
		case test.repeats():
			curve, _ := fatigue.Of(z.material.Name, rules.Joint, rules.WeldClass)
			for side := range stress {
				for k, s := range stress[side] {
					damage[side][k] += fatigue.Damage(curve, rules.Deviations, fatigue.Block{LargestMPa: s, Ratio: test.ratio(), Cycles: test.Cycles})
					p.Damage = max(p.Damage, damage[side][k])
				}
			}
		}
		if r.AllowedMPa > 0 && r.StressMPa > 0 {
			r.Margin = r.AllowedMPa / r.StressMPa
			if test.Kind != ImpactTest {
				p.Margin = min(p.Margin, r.Margin)
			}
		}
		p.Results = append(p.Results, r)
	}
	if math.IsInf(p.Margin, 1) {
		p.Margin = 0
		if p.Missing == "" {
			p.Missing = "no test has a margin"
		}
	}
	return p
}

var sideNames = [2]string{"brake", "other"}

// under finds the stress of each tube in MPa by side and member under a test, and notes the load and the tube that it
// stresses most.
func (f *spaceFrame) under(test *ProofTest, r *TestResult) (stress [2][]float64) {
	if test.Kind == ImpactTest {
		falls := *test
		falls.RearwardN, falls.AlongN, falls.Braked = f.impact(test), 0, false
		test = &falls
	}
	r.LoadN = math.Max(math.Abs(test.RearwardN), math.Abs(test.AlongN))
	a := testLoad[float64](test, f.z.ride.Setting)
	d := f.Solve(f.applying(&a, f.z.atStance[test.At].state))
	for side := range f.tubes {
		stress[side] = make([]float64, len(f.tubes[side]))
		for i, beam := range f.tubes[side] {
			if beam < 0 {
				continue
			}
			stress[side][i] = stressed(f.z, i, f.Ends(beam, d)) * AllowedMPa(f.z)
			if stress[side][i] > r.StressMPa {
				r.StressMPa, r.Part, r.Side = stress[side][i], tubeName(f.z, i), sideNames[side]
			}
		}
	}
	return stress
}

// impact is the force in N to which a striker's fall leads where the fork deflects elastically: F = √(2 m g h k) + m g.
func (f *spaceFrame) impact(test *ProofTest) float64 {
	d := f.Solve(map[int]frame.Load{f.hub: {1: -1}})
	stiffness, weight := -1/d[f.hub][1], test.StrikerKG*ride.Gravity
	return math.Sqrt(2*weight*test.DropMM*stiffness) + weight
}
