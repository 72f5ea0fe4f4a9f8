// Package kinematics turns pivot coordinates into motion: what a fork is, how it moves, and how
// much room it leaves.
package kinematics
