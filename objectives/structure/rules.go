package structure

import "forkfront/objectives/ride"

// Rules determine the sizes of the forks of a case: loads, rules, parts and prices. They serve the concept stage and
// certify nothing.
type Rules struct {
	Cases         []LoadCase
	Tubes         TubeRules
	Pivots        PivotRules
	Slides        SlideRules
	Fixed         []FixedPart
	Costs         CostRates
	Replaced      Replaced
	ForeAftNPerMM float64     // fore-aft stiffness up to which tubes are sized; 0: strength alone
	ToleranceMM   float64     // how far each pivot may lie off along and ahead, as a standard deviation
	ShockNewton   float64     // friction of each shock at its shaft, N
	Proof         *ProofRules // test loads; nil: none
}

// Stance is where in its travel a fork is loaded.
type Stance int

// Stances of load cases.
const (
	TopOut Stance = iota
	AtSag
	FullTravel
	stances
)

// LoadCase is one way in which a fork is loaded; its forces act together. Those named Static are multiples of the static
// load on the front wheel.
type LoadCase struct {
	Name           string
	At             Stance
	VerticalStatic float64 // up at the contact point, in static front loads
	TyreFriction   float64 // hard braking with the front brake alone: the tyre's grip; 0: not braking
	RearwardN      float64 // back at the axle, perpendicular to the steering axis
	SideStatic     float64 // sideways at the contact point, in static front loads

	Test *ProofTest // whose load it is, in place of those above; nil: none
}

// DefaultLoadCases are common practice at concept stage, without a source: landing at full travel, hard
// braking at sag and at full travel, a rearward force, a side load.
func DefaultLoadCases() []LoadCase {
	return []LoadCase{
		{Name: "landing", At: FullTravel, VerticalStatic: 3},
		{Name: "braking at sag", At: AtSag, TyreFriction: 1},
		{Name: "braking at full travel", At: FullTravel, TyreFriction: 1},
		{Name: "rearward push", At: TopOut, RearwardN: 1200},
		{Name: "side load", At: AtSag, SideStatic: 0.3},
	}
}

// DefaultRules are those of a job without sections of its own.
func DefaultRules() *Rules {
	return &Rules{
		Cases: DefaultLoadCases(), Tubes: DefaultTubeRules(), Pivots: DefaultPivotRules(), Slides: DefaultSlideRules(), Fixed: DefaultFixedParts(), Costs: DefaultCostRates(),
		Replaced: DefaultReplaced(), ForeAftNPerMM: 60, ToleranceMM: 0.2, ShockNewton: 30,
	}
}

// TubeRules limit the round tubes that members are made of.
type TubeRules struct {
	WallShare     float64 // wall as a part of the outside diameter
	MinWallMM     float64
	MinDiameterMM float64
	MaxDiameterMM float64
	Safety        float64 // on the yield strength and on buckling

	JointDiameters float64 // what the joint at each end of a tube weighs, as a length of that tube in diameters
}

// DefaultTubeRules are common practice without a source.
func DefaultTubeRules() TubeRules {
	return TubeRules{WallShare: 0.08, MinWallMM: 1.2, MinDiameterMM: 16, MaxDiameterMM: 50, Safety: 1.5, JointDiameters: 0.5}
}

// FixedPart is a part that every fork has whatever its shape.
type FixedPart struct {
	Name   string
	MassG  float64
	OnAxle bool // goes with the axle; otherwise it sits on the steering axis
}

// DefaultFixedParts are common practice without a source.
func DefaultFixedParts() []FixedPart {
	return []FixedPart{{"steerer and crown race", 320, false}, {"crown bridge", 250, false}, {"wheel axle", 75, true}, {"brake mount", 40, true}}
}

// Replaced is what is known of the telescopic fork that a linkage replaces.
type Replaced struct {
	MassG         float64
	Cost          float64 // in the unit of the cost rates
	BushFriction  float64
	BushOverlapMM float64 // distance of its two bushes at top-out
	LowersMM      float64 // upper bush above the axle; 0: axle to crown minus travel minus 30
}

// Lowers is the height of the upper bush above the axle, in mm.
func (r *Replaced) Lowers(c *ride.Setting) float64 {
	if r.LowersMM == 0 {
		return c.Chassis.AxleToCrownMM - c.TravelMM - 30
	}
	return r.LowersMM
}

// DefaultReplaced is a telescopic fork of about 160 mm (common practice, no source).
func DefaultReplaced() Replaced {
	return Replaced{MassG: 2100, Cost: 400, BushFriction: 0.05, BushOverlapMM: 110}
}

// Whether bodies may tilt at a pivot: cylindrical bearings hold them in line, self-aligning ones do not.
const (
	TiltFixed = "fixed"
	TiltFree  = "free"
)

// spin is the share of its torsional stiffness with which each end of a tube resists rotation about the tube's axis where
// pivots allow tilt. A tube between two such pivots may spin, which matters to nobody, but leaves equations without a
// unique solution. The share is too small to be seen in other displacements.
func (r *Rules) spin() float64 {
	if r.Pivots.Tilt == TiltFree {
		return 1e-8
	}
	return 0
}

// PivotRules are how pivots are made: a hollow shaft of steel, and on each side a rolling bearing or
// a plain bush.
type PivotRules struct {
	StaticSafety    float64 // of rolling bearings, on their static rating
	BushNPerMM2     float64 // of plain bushes, on the projected area
	ShaftYieldMPa   float64
	ShaftBore       float64 // inside over outside diameter
	Safety          float64 // of shafts, on yield
	LeastArmMM      float64 // lever of the pin force on the shaft where both bodies stand as wide
	BossMM          float64 // length of the shaft beyond the outer body's middle
	SleeveMM        float64 // wall of the sleeve around a bearing or bush
	RollingFriction float64
	PlainFriction   float64
	SealNMM         float64 // torque of a rolling bearing's seals
	Tilt            string  // TiltFixed or TiltFree: whether the bodies at a pivot may tilt against each other
}

// DefaultPivotRules are common practice without a source, except the yield strength: 4130
// normalized, MIL-HDBK-5J.
func DefaultPivotRules() PivotRules {
	return PivotRules{
		StaticSafety: 1, BushNPerMM2: 60, ShaftYieldMPa: 517.1, ShaftBore: 0.7, Safety: 1.5, LeastArmMM: 10, BossMM: 12, SleeveMM: 2,
		RollingFriction: 0.0015, PlainFriction: 0.05, SealNMM: 15, Tilt: TiltFixed,
	}
}

// CostRates are prices of parts in one unit of the user's choice (common practice, no source). They
// serve to compare forks and are not a quotation.
type CostRates struct {
	TubePart  float64 // each tube, cut, mitred and welded
	TubePerKG float64
	Bearing   float64 // each rolling bearing
	Bush      float64 // each plain bush
	Shaft     float64 // each
	Shock     float64 // each
	Fixed     float64 // all fixed parts
}

// DefaultCostRates are common practice without a source.
func DefaultCostRates() CostRates {
	return CostRates{TubePart: 6, TubePerKG: 30, Bearing: 6, Bush: 2, Shaft: 8, Shock: 150, Fixed: 90}
}

// each is the price of one bearing or bush.
func (r *CostRates) each(rolling bool) float64 {
	if rolling {
		return r.Bearing
	}
	return r.Bush
}
