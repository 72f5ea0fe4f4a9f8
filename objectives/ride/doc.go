// Package ride computes how a fork rides from the states of its motion: sag, spring, rest under braking, and the measures
// of its axle path, with their derivatives. It does not deal with tubes, pivots or clearances.
package ride
