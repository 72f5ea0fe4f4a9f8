// Package ride turns the states of a fork into how it rides: sag, spring, rest under braking, and the measures
// that are read off its path, with their derivatives. It knows nothing of tubes, pivots or gaps.
package ride
