// Package sides describes one side of a fork and what joins it to the other, as far as it does not depend on sizes: a mesh of tubes and
// shafts with its unknown displacements, and the forces that equilibrium leaves open.
package sides
