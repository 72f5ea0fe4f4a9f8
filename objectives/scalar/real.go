package scalar

import (
	"math"

	"forkfront/kinematics"
)

// Step is that of the complex derivative: its square vanishes against any value here.
const Step = 1e-40

func Lower[T kinematics.Scalar](a, b T) T {
	if kinematics.Real(b) < kinematics.Real(a) {
		return b
	}
	return a
}

func Higher[T kinematics.Scalar](a, b T) T {
	if kinematics.Real(b) > kinematics.Real(a) {
		return b
	}
	return a
}

// Root of a mean square, zero where it is.
func Root[T kinematics.Scalar](x T) T {
	if kinematics.Real(x) <= 0 {
		return 0
	}
	return kinematics.Sqrt(x)
}

// Pow is x to a constant exponent, for x > 0.
func Pow[T kinematics.Scalar](x T, n float64) T {
	value := math.Pow(kinematics.Real(x), n)
	lifted := kinematics.Lift[T](value)
	slope := kinematics.Lift[T](n * value / kinematics.Real(x))
	return lifted + slope*(x-kinematics.Lift[T](kinematics.Real(x)))
}

// Cbrt is the cube root of what is not negative.
func Cbrt[T kinematics.Scalar](x T) T {
	at := kinematics.Real(x)
	if at <= 0 {
		return 0
	}
	root := math.Cbrt(at)
	return kinematics.Lift[T](root) + (x-kinematics.Lift[T](at))*kinematics.Lift[T](root/(3*at))
}

// Hypot is the length of a vector of two moments.
func Hypot[T kinematics.Scalar](a, b T) T {
	square := a*a + b*b
	if kinematics.Real(square) == 0 {
		return 0
	}
	return kinematics.Sqrt(square)
}
