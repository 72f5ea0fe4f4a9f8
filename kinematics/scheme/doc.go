// Package scheme states what a mechanism is made of, as a file does: bodies, pivots, slides, members and a shock, by
// name and without coordinates.
package scheme
