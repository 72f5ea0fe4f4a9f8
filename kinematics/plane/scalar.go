package plane

import (
	"math"
	"unsafe"
)

// Scalar is a number that motion is computed in: float64 for values, complex128 for values with
// one directional derivative carried in the imaginary part (complex step: with a step of 1e-40 the
// products of two steps vanish against the values, so the derivative is exact to rounding).
type Scalar interface{ float64 | complex128 }

// Lift and Real read and write memory instead of switching over types, which an instance of a generic function does at
// run time: they stand in every formula, and a full evaluation is 5 % faster.

// Lift makes a plain number a Scalar without derivative.
func Lift[T Scalar](x float64) T {
	var t T
	*(*float64)(unsafe.Pointer(&t)) = x
	return t
}

// Real is the value of x, by which all comparisons are made.
func Real[T Scalar](x T) float64 {
	return *(*float64)(unsafe.Pointer(&x)) // where a complex128 has its real part
}

// plain tells whether x is a float64, which an instance of a generic function knows when it is compiled.
func plain[T Scalar](x T) bool { return unsafe.Sizeof(x) == unsafe.Sizeof(float64(0)) }

// slope is the derivative that x carries, where it is not plain.
func slope[T Scalar](x T) float64 { return imag(*(*complex128)(unsafe.Pointer(&x))) }

// sloping is a value that carries a derivative, where a T is not plain.
func sloping[T Scalar](value, slope float64) T {
	c := complex(value, slope)
	return *(*T)(unsafe.Pointer(&c))
}

// Sqrt is the square root for a positive value.
func Sqrt[T Scalar](x T) T {
	r := math.Sqrt(Real(x))
	if plain(x) {
		return Lift[T](r)
	}
	return sloping[T](r, slope(x)/(2*r))
}

// Atan2 is the angle of (x, y) in radians, as math.Atan2.
func Atan2[T Scalar](y, x T) T {
	switch v := any(y).(type) {
	case float64:
		return any(math.Atan2(v, Real(x))).(T)
	case complex128:
		w := any(x).(complex128)
		square := real(w)*real(w) + real(v)*real(v)
		turn := (real(w)*imag(v) - real(v)*imag(w)) / square
		return any(complex(math.Atan2(real(v), real(w)), turn)).(T)
	}
	return y
}

// Abs is x or -x, whichever has a value that is not negative.
func Abs[T Scalar](x T) T {
	if Real(x) < 0 {
		return -x
	}
	return x
}

// Inverse is 1/x. The derivative is taken to the first order, as everywhere, which spares the
// scaling that a division of complex numbers does.
func Inverse[T Scalar](x T) T {
	r := 1 / Real(x)
	if plain(x) {
		return Lift[T](r)
	}
	return sloping[T](r, -slope(x)*r*r)
}
