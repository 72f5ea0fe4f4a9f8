package structure

import (
	"forkfront/objectives/ride"
	"forkfront/objectives/structure/loads"
	"forkfront/objectives/structure/parts"
)

// Rules determine the sizes of the forks of a case: loads, rules, parts and prices. They serve the concept stage and
// certify nothing.
type Rules struct {
	Cases         []loads.Case
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

// DefaultRules are those of a job without sections of its own.
func DefaultRules() *Rules {
	return &Rules{
		Cases: loads.DefaultCases(), Tubes: parts.DefaultTubeRules(), Pivots: parts.DefaultPivotRules(), Slides: parts.DefaultSlideRules(), Fixed: parts.DefaultFixed(), Costs: parts.DefaultCostRates(),
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
