package statics

import (
	"forkfront/kinematics"
	"forkfront/objectives/scalar"
	"forkfront/objectives/structure/parts"
)

// Internal are the internal forces of a member in the plane, on one side of the fork: the axial force in N, tension positive, and the
// bending moments at its start and end in N·mm.
type Internal[T kinematics.Scalar] struct{ Axial, Start, End T }

// Worst is the demand on the more heavily loaded tube of a member when that many tubes share the load in the plane; the
// torque of a brake on one side adds half of itself to that side. wound is that torque in N·mm, 0 where it does not run through the member.
func (in *Internal[T]) Worst(tubes float64, wound T) parts.Demand[T] {
	share := kinematics.Lift[T](2 / tubes)
	d := parts.Demand[T]{Axial: kinematics.Abs(in.Axial) * share}
	d.Bending = scalar.Higher(kinematics.Abs(in.Start), kinematics.Abs(in.End)) * share
	if kinematics.Real(in.Axial) < 0 {
		d.Compression = d.Axial
	}
	if tubes == 2 {
		d.Bending += wound * 0.5
	}
	return d
}

// Twice are those of a member that bears what both sides have.
func (in *Internal[T]) Twice() Internal[T] {
	return Internal[T]{2 * in.Axial, 2 * in.Start, 2 * in.End}
}
