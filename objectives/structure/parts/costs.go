package parts

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

// Each is the price of one bearing or bush.
func (r *CostRates) Each(rolling bool) float64 {
	if rolling {
		return r.Bearing
	}
	return r.Bush
}

// Fixed is a part that every fork has whatever its shape.
type Fixed struct {
	Name   string
	MassG  float64
	OnAxle bool // goes with the axle; otherwise it sits on the steering axis
}

// DefaultFixed are the fixed parts of a job without any of its own: common practice without a source.
func DefaultFixed() []Fixed {
	return []Fixed{{"steerer and crown race", 320, false}, {"crown bridge", 250, false}, {"wheel axle", 75, true}, {"brake mount", 40, true}}
}
