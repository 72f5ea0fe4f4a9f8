package structure

import (
	"forkfront/objectives/ride"
	"forkfront/objectives/structure/parts"
)

// Rules determine the sizes of the forks of a case: loads, rules, parts and prices. They serve the concept stage and
// certify nothing.
type Rules struct {
	Cases         []LoadCase
	Tubes         parts.TubeRules
	Pivots        parts.PivotRules
	Slides        parts.SlideRules
	Fixed         []parts.Fixed
	Costs         parts.CostRates
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
		Cases: DefaultLoadCases(), Tubes: parts.DefaultTubeRules(), Pivots: parts.DefaultPivotRules(), Slides: parts.DefaultSlideRules(), Fixed: parts.DefaultFixed(), Costs: parts.DefaultCostRates(),
		Replaced: DefaultReplaced(), ForeAftNPerMM: 60, ToleranceMM: 0.2, ShockNewton: 30,
	}
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
