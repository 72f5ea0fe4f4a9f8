// Package plane has the numbers and vectors that motion in a plane is computed with: scalars that
// may carry a derivative, vectors, poses and rates, and small systems of linear equations. It knows
// nothing of forks.
package plane
