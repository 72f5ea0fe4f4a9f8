package scalar

import (
	"math"

	"forkfront/kinematics"
)

// Step is the step of complex-step differentiation, so small that its square vanishes beside any value.
const Step = 1e-40

// Lower is the smaller of two numbers by value; a if they are equal.
func Lower[T kinematics.Scalar](a, b T) T {
	if kinematics.Real(b) < kinematics.Real(a) {
		return b
	}
	return a
}

// Higher is the larger of two numbers by value; a if they are equal.
func Higher[T kinematics.Scalar](a, b T) T {
	if kinematics.Real(b) > kinematics.Real(a) {
		return b
	}
	return a
}

// Root is the square root of a mean square; 0, without a derivative, where that is 0 or by rounding negative.
func Root[T kinematics.Scalar](x T) T {
	if kinematics.Real(x) <= 0 {
		return 0
	}
	return kinematics.Sqrt(x)
}

// Pow is x to the power n, for x > 0.
func Pow[T kinematics.Scalar](x T, n float64) T {
	value := math.Pow(kinematics.Real(x), n)
	lifted := kinematics.Lift[T](value)
	slope := kinematics.Lift[T](n * value / kinematics.Real(x))
	return lifted + slope*(x-kinematics.Lift[T](kinematics.Real(x)))
}

// Cbrt is the cube root of x; 0, without a derivative, for x <= 0.
func Cbrt[T kinematics.Scalar](x T) T {
	at := kinematics.Real(x)
	if at <= 0 {
		return 0
	}
	root := math.Cbrt(at)
	return kinematics.Lift[T](root) + (x-kinematics.Lift[T](at))*kinematics.Lift[T](root/(3*at))
}

// Hypot is the length of the vector (a, b); 0, without a derivative, for the zero vector.
func Hypot[T kinematics.Scalar](a, b T) T {
	square := a*a + b*b
	if kinematics.Real(square) == 0 {
		return 0
	}
	return kinematics.Sqrt(square)
}
