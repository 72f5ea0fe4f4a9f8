package statics

import (
	"forkfront/kinematics"
	"forkfront/objectives/scalar"
	"forkfront/objectives/structure/parts"
)

// TubeLoads are the internal forces of one tube: those in the plane, and out of it the bending moments at its start and end and the
// twisting moment along it, N·mm.
type TubeLoads[T kinematics.Scalar] struct {
	Internal[T]
	OutOfPlaneStart, OutOfPlaneEnd, Twist T
}

// Add adds a multiple of another load.
func (r *TubeLoads[T]) Add(by *TubeLoads[T], times T) {
	r.Axial += by.Axial * times
	r.Start += by.Start * times
	r.End += by.End * times
	r.OutOfPlaneStart += by.OutOfPlaneStart * times
	r.OutOfPlaneEnd += by.OutOfPlaneEnd * times
	r.Twist += by.Twist * times
}

// Governing is the demand at the more stressed end of the more stressed tube of a member: both are the loads that the two
// sides have in common, and one those that each unit of the brake's torque adds on the caliper's side and subtracts on
// the other, where there is a pair. Stresses are compared for the given section.
func (both *TubeLoads[T]) Governing(one *TubeLoads[T], torque T, pair bool, s *parts.Section[T]) parts.Demand[T] {
	if torque == 0 {
		return both.demand()
	}
	r := *both
	r.Add(one, torque)
	worst := r.demand()
	if !pair {
		return worst
	}
	r = *both
	r.Add(one, -torque)
	other := r.demand()
	compression := scalar.Higher(worst.Compression, other.Compression)
	if kinematics.Real((other.Axial-worst.Axial)*s.Modulus+(other.Bending-worst.Bending)*s.Area) > 0 {
		worst = other
	}
	worst.Compression = compression
	return worst
}

// demand is that of a tube at the end where the moments are larger.
func (r *TubeLoads[T]) demand() (d parts.Demand[T]) {
	first, second := r.Start*r.Start+r.OutOfPlaneStart*r.OutOfPlaneStart, r.End*r.End+r.OutOfPlaneEnd*r.OutOfPlaneEnd
	d.Bending = scalar.Root(scalar.Higher(first, second) + r.Twist*r.Twist*(mises*mises))
	d.Axial = r.Axial
	if kinematics.Real(r.Axial) < 0 {
		d.Axial, d.Compression = -r.Axial, -r.Axial
	}
	return d
}

// mises is the factor by which a twisting moment counts as a bending moment: √¾.
const mises = 0.8660254037844386
