package structure

import "forkfront/kinematics"

// CostIndex is what the parts cost over what the telescopic fork costs.
func CostIndex[T kinematics.Scalar](z *Sized[T]) T {
	r := &z.Rules.Costs
	sum := r.Fixed + r.Shock*float64(z.Ride.Shock.Count)
	var kilograms T
	for i := range z.Members {
		if !z.Path.Continues(i) {
			sum += r.TubePart * z.Members[i].Count
		}
		kilograms += z.Members[i].MassG * kinematics.Lift[T](1e-3)
	}
	for i := range z.Pivots {
		p := &z.Pivots[i]
		sum += r.Shaft*float64(p.Shafts) + z.bearings(i)*r.Each(p.Rolling)
	}
	return (kinematics.Lift[T](sum) + kilograms*kinematics.Lift[T](r.TubePerKG)) * kinematics.Lift[T](1/z.Rules.Replaced.Cost)
}
