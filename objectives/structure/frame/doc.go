// Package frame solves space frames of straight beams for their displacements and the derivatives of these. It knows nothing of
// forks.
package frame
