package structure

import (
	"forkfront/objectives/fork"
	"forkfront/objectives/structure/fatigue"
)

// ProofRules are the test loads that a sized fork is checked against, what it has to bear in its life, and how its joints
// are made.
type ProofRules struct {
	Tests      []ProofTest
	Duty       []DutyLoad
	Events     []DutyEvent // of the duty too
	Joint      fatigue.Joint
	WeldClass  float64 // of welds, MPa at two million cycles; 0: the usual one of the material
	Deviations float64 // standard deviations of the life by which fatigue margins stay below the median
}

// TestKind is how a test loads a fork.
type TestKind string

// Kinds of tests. Impact is by energy, elastic, and hence a bound: it is shown, but counts in no measure.
const (
	StaticTest    TestKind = "static"
	ReversedTest  TestKind = "reversed"  // between the load and its opposite
	PulsatingTest TestKind = "pulsating" // between nothing and the load
	ImpactTest    TestKind = "impact"    // a striker that falls on the fork rearwards
)

// TestKinds are all kinds.
var TestKinds = []TestKind{StaticTest, ReversedTest, PulsatingTest, ImpactTest}

// ProofTest is one test load. Its forces act together on the hub.
type ProofTest struct {
	Name       string
	Kind       TestKind
	At         Stance
	RearwardN  float64 // perpendicular to the steering axis
	AlongN     float64 // along it: positive pulls the wheel away from the crown
	Braked     bool    // RearwardN acts at an arm about the axle, and the caliper's body bears the torque
	BrakeArmMM float64 // 0: the front wheel's radius
	Cycles     float64
	DropMM     float64
	StrikerKG  float64
	Source     string
}

// DutyLoad is a load that a fork bears many times in its life: a load case, which comes and goes, or a test, which
// reverses if it is of that kind.
type DutyLoad struct {
	Case   LoadCase
	Cycles float64
}

// ratio is the smallest over the largest stress of a cycle.
func (d *DutyLoad) ratio() float64 {
	if d.Case.Test == nil {
		return 0
	}
	return d.Case.Test.ratio()
}

// DutyEvent is an event, by its name, that a fork goes through many times in its life.
type DutyEvent struct {
	Event   string
	Repeats float64
}

// AsCase is the test as a load case.
func (t *ProofTest) AsCase() LoadCase { return LoadCase{Name: t.Name, At: t.At, Test: t} }

// repeats tells whether a test is one of fatigue.
func (t *ProofTest) repeats() bool { return t.Kind == ReversedTest || t.Kind == PulsatingTest }

// ratio is the smallest over the largest stress of a test that repeats.
func (t *ProofTest) ratio() float64 {
	if t.Kind == ReversedTest {
		return -1
	}
	return 0
}

// allowed is the stress in MPa that tubes may have under a test and by which word, or why it is not known.
func (r *Rules) allowed(t *ProofTest, m *fork.Material) (stress float64, by, missing string) {
	p := r.Proof
	if !t.repeats() {
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
	return curve.Stress(t.Cycles, t.ratio(), p.Deviations), curve.Source(), ""
}

// SizeForTests adds the tests, except impacts, to the load cases that tubes are sized for.
func (r *Rules) SizeForTests() {
	for i := range r.Proof.Tests {
		if t := &r.Proof.Tests[i]; t.Kind != ImpactTest {
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
			stress, _, missing := r.allowed(t, m)
			if missing != "" {
				return nil, missing
			}
			by = reserve * r.Tubes.StrengthMPa(m) / r.Tubes.Safety / stress
		}
		dst = append(dst, by)
	}
	return dst, ""
}

// Test loads that standards name. What was not read in a copy says so.
const (
	isoFromMemory = "ISO 4210-6 (mountain bicycles), from memory"
	astmRead      = "ASTM F2899, read in a copy"
)

// ProofPresets are sets of test loads by the name of their standard.
var ProofPresets = map[string][]ProofTest{
	"none": nil,
	"iso-4210-6-mountain": {
		{Name: "static bending", Kind: StaticTest, RearwardN: 1500, Source: isoFromMemory},
		{Name: "bending fatigue", Kind: ReversedTest, RearwardN: 650, Cycles: 100000, Source: isoFromMemory},
		{Name: "static brake torque", Kind: StaticTest, RearwardN: 1000, Braked: true, Source: isoFromMemory},
		{Name: "brake torque fatigue", Kind: PulsatingTest, RearwardN: 600, Braked: true, Cycles: 12000, Source: isoFromMemory},
		{Name: "compression", Kind: StaticTest, AlongN: -2800, At: FullTravel, Source: isoFromMemory},
		{Name: "tension", Kind: StaticTest, AlongN: 2300, Source: isoFromMemory},
		{Name: "rearward impact", Kind: ImpactTest, StrikerKG: 22.5, DropMM: 360, Source: isoFromMemory},
	},
	"astm-f2899": {
		{Name: "static bending", Kind: StaticTest, RearwardN: 1200, Source: astmRead},
		{Name: "bending fatigue", Kind: ReversedTest, RearwardN: 620, Cycles: 100000, Source: astmRead},
		{Name: "rearward impact", Kind: ImpactTest, StrikerKG: 22.5, DropMM: 640, Source: astmRead + "; mass of the striker from memory"},
	},
}
