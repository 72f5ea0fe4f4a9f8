// Package optimize turns a problem in numbers into the set of its best compromises.
//
// It knows variables, objectives and constraints, and nothing about what they stand for.
package optimize

import "forkfront/optimize/problem"

// What is searched, under the names that callers of Search use; see package problem.
type (
	Variable       = problem.Variable
	Objective      = problem.Objective
	Outcome        = problem.Outcome
	Candidate      = problem.Candidate
	Problem        = problem.Problem
	PerWorker      = problem.PerWorker
	Differentiable = problem.Differentiable
	Niched         = problem.Niched
	Staged         = problem.Staged
)
