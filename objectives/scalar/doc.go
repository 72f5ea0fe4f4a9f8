// Package scalar has functions of real and of complex-step numbers: extremes, roots and powers. A complex number carries a
// derivative in its imaginary part, and comparisons use only the real one.
package scalar
