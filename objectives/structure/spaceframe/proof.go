package spaceframe

import (
	"fmt"
	"math"

	"forkfront/objectives/ride"
	"forkfront/objectives/structure"
	"forkfront/objectives/structure/fatigue"
	"forkfront/objectives/structure/frame"
	"forkfront/objectives/structure/loads"
)

// TestResult is what a test asks of a fork: of the tube that it stresses most.
type TestResult struct {
	Test       string         `json:"test"`
	Kind       loads.TestKind `json:"kind"`
	LoadN      float64        `json:"load_n"` // the larger of rearward and along; of an impact what its energy leads to
	Cycles     float64        `json:"cycles,omitempty"`
	Part       string         `json:"part"`
	Side       string         `json:"side"` // the caliper's or the other one
	StressMPa  float64        `json:"stress_mpa"`
	AllowedMPa float64        `json:"allowed_mpa,omitempty"`
	Margin     float64        `json:"margin,omitempty"`  // allowed stress over stress
	Missing    string         `json:"missing,omitempty"` // why there is no margin
	Basis      string         `json:"basis"`             // where the load comes from
	AllowedBy  string         `json:"allowed_by,omitempty"`
}

// DutyResult is what one load of the duty does to the tube that it stresses most.
type DutyResult struct {
	Load      string  `json:"load"`
	Cycles    float64 `json:"cycles"`
	Part      string  `json:"part"`
	Side      string  `json:"side"`
	StressMPa float64 `json:"stress_mpa"`
	Damage    float64 `json:"damage"`
}

// Proof is a sized fork under all test loads, and over its duty.
type Proof struct {
	Results       []TestResult  `json:"tests,omitempty"`
	Duty          []DutyResult  `json:"duty,omitempty"`
	Pivots        []PivotResult `json:"pivots,omitempty"`
	Margin        float64       `json:"least_margin"` // of tubes in static and fatigue tests
	Damage        float64       `json:"damage"`       // Miner's sum of the duty, or else of all fatigue tests, at the worst tube of one side
	Missing       string        `json:"missing,omitempty"`
	MissingDamage string        `json:"missing_damage,omitempty"`
	Assumed       string        `json:"assumed"` // walls and joints that the figures are for

	from any // *origins, or nothing; not spelled out, or whoever has a Proof compiles all generic code of space frames
}

// origins are what a proof's slopes are taken of.
type origins struct {
	least *underLoad // that of the least margin
	wears []wear     // what the damage is the sum of, where events are no part of it
	worst tubeOn     // where it is done
}

// tubeOn is a member's tube on one side.
type tubeOn struct{ side, member int }

// wear is a load that comes a number of times.
type wear struct {
	*underLoad
	ratio, cycles float64
}

// Prove checks a sized fork against the test loads of its rules, by the space frame with the shock locked: the stress
// N/A + √(M² + ¾ T²)/Z at both ends of each tube on each side. Static margins are on the yield strength, fatigue margins
// on the stress that the joints withstand for the cycles of the test. It returns nil where the rules have neither tests
// nor a duty. histories are those of the events of the duty. ProvePivots has the pivots.
func Prove(z *Fork[float64], histories []History) *Proof {
	rules := z.Rules.Proof
	if rules == nil || len(rules.Tests)+len(rules.Duty)+len(rules.Events) == 0 {
		return nil
	}
	pr := &prover{z: z, rules: rules, from: &origins{}}
	pr.proof = &Proof{Margin: math.Inf(1), from: pr.from}
	for side := range pr.damage {
		pr.damage[side] = make([]float64, len(z.Members))
	}
	for i := range rules.Tests {
		if !pr.addTest(&rules.Tests[i]) {
			return &Proof{Missing: looseFrame, MissingDamage: looseFrame}
		}
	}
	for i := range rules.Duty {
		if !pr.addDuty(&rules.Duty[i]) {
			return &Proof{Missing: looseFrame, MissingDamage: looseFrame}
		}
	}
	for i := range histories {
		if !pr.addHistory(&histories[i]) {
			return &Proof{Missing: looseFrame, MissingDamage: looseFrame}
		}
	}
	p := pr.proof
	p.Assumed = pr.assumed()
	if math.IsInf(p.Margin, 1) {
		p.Margin = 0
		if p.Missing == "" {
			p.Missing = "no test has a margin"
		}
	}
	return p
}

const looseFrame = "the space frame is loose"

// prover collects what tests and duty do to one fork.
type prover struct {
	z      *Fork[float64]
	rules  *structure.ProofRules
	damage [2][]float64 // by side and member
	proof  *Proof
	from   *origins
}

// assumed says for what walls and joints the figures are.
func (pr *prover) assumed() string {
	tubes, joint := &pr.z.Rules.Tubes, string(pr.rules.Joint)
	if left := fatigue.YieldLeft(pr.z.Material.Name, pr.rules.Joint); left < 1 {
		joint += fmt.Sprintf(" (with %g %% of the yield strength left)", 100*left)
	}
	return fmt.Sprintf("%s, walls %g %% of the diameter, at least %g mm; joints: %s, each as heavy as %g diameters of its tube; fatigue %g standard deviations below the median life",
		pr.z.Material.Name, 100*tubes.WallShare, tubes.MinWallMM, joint, tubes.JointDiameters, pr.rules.Deviations)
}

// addTest adds a test. It is false where the frame is loose.
func (pr *prover) addTest(test *loads.Test) bool {
	f := solved(pr.z, test.At)
	if f == nil {
		return false
	}
	p, rules := pr.proof, pr.rules
	r := TestResult{Test: test.Name, Kind: test.Kind, Cycles: test.Cycles, Basis: test.Source}
	u := f.tested(test)
	r.LoadN, r.StressMPa, r.Part, r.Side = u.loadN, u.mostMPa, pr.z.Path.TubeName(u.most.member), sideNames[u.most.side]
	r.AllowedMPa, r.AllowedBy, r.Missing = pr.z.Rules.Allowed(test, pr.z.Material)
	if r.Missing != "" {
		p.Missing = r.Missing
	}
	if test.Repeats() && len(rules.Duty)+len(rules.Events) == 0 {
		pr.addDamage(wear{u, test.Ratio(), test.Cycles})
	}
	if r.AllowedMPa > 0 && r.StressMPa > 0 {
		r.Margin = r.AllowedMPa / r.StressMPa
		if test.Kind != loads.ImpactTest && r.Margin < p.Margin {
			p.Margin, pr.from.least = r.Margin, u
		}
	}
	p.Results = append(p.Results, r)
	return true
}

// addDuty adds a load of the duty. It is false where the frame is loose.
func (pr *prover) addDuty(d *loads.Duty) bool {
	f := solved(pr.z, d.Case.At)
	if f == nil {
		return false
	}
	u := f.under(&d.Case)
	r := DutyResult{Load: d.Case.Name, Cycles: d.Cycles, Part: pr.z.Path.TubeName(u.most.member), Side: sideNames[u.most.side], StressMPa: u.mostMPa}
	r.Damage = pr.addDamage(wear{u, d.Ratio(), d.Cycles})
	pr.proof.Duty = append(pr.proof.Duty, r)
	return true
}

// addDamage adds that of a number of cycles to each tube, and returns the largest that they do themselves.
func (pr *prover) addDamage(w wear) (most float64) {
	p := pr.proof
	curve, missing := fatigue.Of(pr.z.Material.Name, pr.rules.Joint, pr.rules.WeldClass)
	if missing != "" {
		p.MissingDamage = missing
		return 0
	}
	pr.from.wears = append(pr.from.wears, w)
	for side := range w.stress {
		for k, s := range w.stress[side] {
			by := fatigue.Damage(curve, pr.rules.Deviations, fatigue.Block{LargestMPa: s, Ratio: w.ratio, Cycles: w.cycles})
			pr.damage[side][k] += by
			most = max(most, by)
			if pr.damage[side][k] > p.Damage {
				p.Damage, pr.from.worst = pr.damage[side][k], tubeOn{side, k}
			}
		}
	}
	return most
}

var sideNames = [2]string{"brake", "other"}

// underLoad is a frame under a load: its displacements, and the stress of each tube in MPa by side and member with the
// largest of them.
type underLoad struct {
	f       *solvedFrame
	load    loads.Case
	onNode  map[int]frame.Load[float64]
	moved   frame.Displacements[float64]
	loadN   float64 // of a test
	stress  [2][]float64
	mostMPa float64
	most    tubeOn
}

// tested is the frame under a test load; that of an impact is what its energy leads to.
func (f *solvedFrame) tested(test *loads.Test) *underLoad {
	if test.Kind == loads.ImpactTest {
		falls := *test
		falls.RearwardN, falls.AlongN, falls.Braked = f.impact(test), 0, false
		test = &falls
	}
	c := test.AsCase()
	u := f.under(&c)
	u.loadN = math.Max(math.Abs(test.RearwardN), math.Abs(test.AlongN))
	return u
}

// under solves the frame.
func (f *solvedFrame) under(c *loads.Case) *underLoad {
	u := &underLoad{f: f, load: *c, onNode: f.loads(c)}
	u.moved = f.Solve(u.onNode)
	for side := range f.tubes {
		u.stress[side] = make([]float64, len(f.tubes[side]))
		for i, beam := range f.tubes[side] {
			if beam < 0 {
				continue
			}
			u.stress[side][i] = stressed(f.z, i, f.Ends(beam, u.moved)) * structure.AllowedMPa(f.z.Sized)
			if u.stress[side][i] > u.mostMPa {
				u.mostMPa, u.most = u.stress[side][i], tubeOn{side, i}
			}
		}
	}
	return u
}

// impact is the force in N to which a striker's fall leads where the fork deflects elastically: F = √(2 m g h k) + m g.
func (f *solvedFrame) impact(test *loads.Test) float64 {
	d := f.Solve(map[int]frame.Load[float64]{f.hub: {1: -1}})
	stiffness, weight := -1/d[f.hub][1], test.StrikerKG*ride.Gravity
	return math.Sqrt(2*weight*test.DropMM*stiffness) + weight
}
