// Package skyline turns symmetric systems of linear equations with few unknowns per row into their solutions,
// without allocating memory once their pattern is known. It knows nothing of forks.
package skyline
