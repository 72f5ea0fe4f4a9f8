// Package cases turns a job into its cases, each of which the search sees as a problem in numbers, and a concept into
// a design to score. It writes nothing.
package cases
