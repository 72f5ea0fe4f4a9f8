// Package score turns one concept into what people read about it: measures beside the telescopic fork, parts, forces,
// clearances, and which limits it violates.
package score
