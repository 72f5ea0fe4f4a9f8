// Package frame solves space frames of straight beams for their displacements. It knows nothing of forks.
package frame
