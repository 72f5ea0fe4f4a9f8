// Package dominance sorts points by Pareto dominance: layers, a tree that finds dominated points, staircases. It knows no
// candidates and no constraints.
package dominance
