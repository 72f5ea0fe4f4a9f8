// Package workers shares work among goroutines, each with a value of its own, so that results do not depend on how many
// there are.
package workers
