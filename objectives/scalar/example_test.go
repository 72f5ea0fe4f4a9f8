package scalar_test

import (
	"fmt"

	"forkfront/objectives/scalar"
)

// The derivative of x³ at 2 is 12, found by a complex step.
func ExamplePow() {
	y := scalar.Pow(complex(2, scalar.Step), 3)
	fmt.Printf("%.0f, derivative %.0f\n", real(y), imag(y)/scalar.Step)
	// Output: 8, derivative 12
}

// The derivative of the cube root at 8 is 1/12.
func ExampleCbrt() {
	y := scalar.Cbrt(complex(8, scalar.Step))
	fmt.Printf("%.0f, derivative %.4f\n", real(y), imag(y)/scalar.Step)
	// Output: 2, derivative 0.0833
}

// Extremes are chosen by value and keep the derivative of what was chosen.
func ExampleLower() {
	y := scalar.Lower(complex(1, 3*scalar.Step), complex(2, -5*scalar.Step))
	fmt.Printf("%.0f, derivative %.0f\n", real(y), imag(y)/scalar.Step)
	// Output: 1, derivative 3
}
