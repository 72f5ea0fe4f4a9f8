package structure

import "forkfront/kinematics"

// CostRates are prices of parts in one unit of the user's choice (common practice, no source). They
// compare forks; they are no quotation.
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

// CostIndex is what the parts cost over what the telescopic fork costs.
func CostIndex[T kinematics.Scalar](z *Sized[T]) T {
	r := &z.rules.Costs
	sum := r.Fixed + r.Shock*float64(z.ride.Shock.Count)
	var kilograms T
	for i := range z.Members {
		sum += r.TubePart * z.Members[i].Count
		kilograms += z.Members[i].MassG * kinematics.Lift[T](1e-3)
	}
	for i := range z.Pivots {
		p := &z.Pivots[i]
		sum += r.Shaft*float64(p.Shafts) + 2*r.each(p.Rolling)
	}
	return (kinematics.Lift[T](sum) + kilograms*kinematics.Lift[T](r.TubePerKG)) * kinematics.Lift[T](1/z.rules.Replaced.Cost)
}

// each is the price of one bearing or bush.
func (r *CostRates) each(rolling bool) float64 {
	if rolling {
		return r.Bearing
	}
	return r.Bush
}
