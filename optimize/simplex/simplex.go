// Package simplex minimises a function of a few variables without derivatives.
package simplex

import (
	"slices"

	"gonum.org/v1/gonum/optimize"
)

// Within is the change of the value below which a descent ends, after a few steps that gained no more.
const Within = 1e-4

// Descend goes down from a start by the method of Nelder and Mead with a simplex of the given size, for about as many
// evaluations as most says, and returns the best point visited with its value. The function must be finite; where it may not go
// it should be large. It is called from one goroutine at a time.
func Descend(f func(x []float64) float64, start []float64, size float64, most int) (best []float64, value float64) {
	best, value = slices.Clone(start), f(start)
	problem := optimize.Problem{Func: func(x []float64) float64 {
		v := f(x)
		if v < value {
			best, value = slices.Clone(x), v
		}
		return v
	}}
	settings := &optimize.Settings{FuncEvaluations: most, InitValues: &optimize.Location{F: value}, Converger: &optimize.FunctionConverge{Absolute: Within, Iterations: 8}}
	// The error tells that no further step was found or that the evaluations are spent: what counts are the points visited.
	_, _ = optimize.Minimize(problem, start, settings, &optimize.NelderMead{SimplexSize: size})
	return best, value
}
