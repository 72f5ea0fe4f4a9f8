// Package objectives turns motion into measures: what a fork does, as named numbers with units,
// always beside the telescopic fork that it would replace.
package objectives
