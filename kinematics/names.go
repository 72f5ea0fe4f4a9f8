package kinematics

import "forkfront/kinematics/plane"

// The numbers and vectors of package plane, by the names that users of this package know.
type (
	Scalar               = plane.Scalar
	Vec[T plane.Scalar]  = plane.Vec[T]
	Pose[T plane.Scalar] = plane.Pose[T]
	Rate[T plane.Scalar] = plane.Rate[T]
)

// Lift makes a plain number a Scalar without derivative.
func Lift[T Scalar](x float64) T { return plane.Lift[T](x) }

// Real is the value of x, by which all comparisons are made.
func Real[T Scalar](x T) float64 { return plane.Real(x) }

// Sqrt is the square root of a positive value.
func Sqrt[T Scalar](x T) T { return plane.Sqrt(x) }

// Atan2 is the angle of (x, y) in radians, as math.Atan2.
func Atan2[T Scalar](y, x T) T { return plane.Atan2(y, x) }

// Abs is x or -x, whichever has a value that is not negative.
func Abs[T Scalar](x T) T { return plane.Abs(x) }

// Inverse is 1/x, its derivative to the first order.
func Inverse[T Scalar](x T) T { return plane.Inverse(x) }

// Distance is the distance between two points, in mm.
func Distance(a, b Vec[float64]) float64 { return plane.Distance(a, b) }

// Point is a position in the fork frame: mm down the steering axis from the crown race seat, and
// mm ahead of the axis.
type Point struct{ Along, Ahead float64 }
