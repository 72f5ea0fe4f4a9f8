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
	curve, unknown := fatigue.Of(z.material.Name, rules.Joint, rules.WeldClass)
	p := &Proof{Margin: math.Inf(1)}
	frames := [stances]*spaceFrame{}
	var damage [2][]float64
	for side := range damage {
		damage[side] = make([]float64, len(z.Members))
	}
	for i := range rules.Tests {
		test := &rules.Tests[i]
		f := frames[test.At]
		if f == nil {
			f = newSpaceFrame(z, test.At)
			if !f.Factor() {
				return &Proof{Missing: "the space frame is loose"}
			}
			frames[test.At] = f
		}
		r := TestResult{Test: test.Name, Kind: test.Kind, Cycles: test.Cycles, Basis: test.Source}
		stress := f.under(test, &r)
		switch test.Kind {
		case StaticTest, ImpactTest:
			r.AllowedMPa = z.material.YieldMPa * fatigue.YieldLeft(z.material.Name, rules.Joint)
			r.AllowedBy = "yield"
		default:
			ratio := map[TestKind]float64{ReversedTest: -1}[test.Kind]
			if r.Missing = unknown; unknown != "" {
				p.Missing = unknown
				break
			}
			r.AllowedMPa, r.AllowedBy = curve.Stress(test.Cycles, ratio, rules.Deviations), curve.Source()
			for side := range stress {
				for k, s := range stress[side] {
					damage[side][k] += fatigue.Damage(curve, rules.Deviations, fatigue.Block{LargestMPa: s, Ratio: ratio, Cycles: test.Cycles})
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
	rearward := test.RearwardN
	if test.Kind == ImpactTest {
		rearward = f.impact(test)
	}
	r.LoadN = math.Max(math.Abs(rearward), math.Abs(test.AlongN))
	loads := map[int]frame.Load{f.hub: {test.AlongN, -rearward}}
	if n := f.z.path.caliper; test.Braked && n >= 0 {
		arm := test.BrakeArmMM
		if arm == 0 {
			arm = f.z.ride.Setting.Chassis.FrontRadiusMM
		}
		on := loads[f.nodes[0][n]]
		on[5] -= rearward * arm
		loads[f.nodes[0][n]] = on
	}
	d := f.Solve(loads)
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
