// Package scalar has functions of numbers that may carry a derivative: extremes, roots and powers, chosen by
// value. It knows nothing of forks.
package scalar
