package testbed

import "forkfront/optimize/problem"

// Case is a problem with the evaluations and the size of the final set it is measured at.
type Case struct {
	*Problem
	Evaluations, Points int
}

// All returns the problems of the benchmark with their usual budgets.
func All() []Case {
	return []Case{
		{ZDT1(), 25000, 100},
		{ZDT2(), 25000, 100},
		{ZDT3(), 25000, 100},
		{ZDT4(), 25000, 100},
		{BNH(), 25000, 100},
		{SRN(), 25000, 100},
		{TNK(), 25000, 100},
		{DTLZ1(3), 36800, 92},
		{DTLZ2(3), 36800, 92},
		{DTLZ2Turned(3, 1), 36800, 92},
		{DTLZ2Turned(3, 1000), 36800, 92},
		{DTLZ3(3), 36800, 92},
		{C3DTLZ4(), 36800, 92},
		{DTLZ2(6), 66000, 132},
	}
}

var _ problem.Differentiable = (*Problem)(nil)
