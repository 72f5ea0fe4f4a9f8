package loads

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

// Test is one test load. Its forces act together on the hub.
type Test struct {
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

// AsCase is the test as a load case.
func (t *Test) AsCase() Case { return Case{Name: t.Name, At: t.At, Test: t} }

// Repeats tells whether a test is one of fatigue.
func (t *Test) Repeats() bool { return t.Kind == ReversedTest || t.Kind == PulsatingTest }

// Ratio is the smallest over the largest stress of a test that repeats.
func (t *Test) Ratio() float64 {
	if t.Kind == ReversedTest {
		return -1
	}
	return 0
}

// Duty is a load that a fork bears many times in its life: a load case, which comes and goes, or a test, which
// reverses if it is of that kind.
type Duty struct {
	Case   Case
	Cycles float64
}

// Ratio is the smallest over the largest stress of a cycle.
func (d *Duty) Ratio() float64 {
	if d.Case.Test == nil {
		return 0
	}
	return d.Case.Test.Ratio()
}

// DutyEvent is an event, by its name, that a fork goes through many times in its life.
type DutyEvent struct {
	Event   string
	Repeats float64
}

// Test loads that standards name. What was not read in a copy says so.
const (
	isoFromMemory = "ISO 4210-6 (mountain bicycles), from memory"
	astmRead      = "ASTM F2899, read in a copy"
)

// TestPresets are sets of test loads by the name of their standard.
var TestPresets = map[string][]Test{
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
