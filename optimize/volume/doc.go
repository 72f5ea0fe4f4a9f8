// Package volume measures points by the hypervolume that they dominate: exact and sampled volumes, contributions, and the
// subset of the largest volume.
package volume
