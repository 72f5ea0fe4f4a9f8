package constraints_test

import (
	"fmt"

	"forkfront/constraints"
	"forkfront/objectives"
)

// A stiffness of 55 N/mm where at least 60 N/mm are required. Amount is in parts of the measure's scale, by which the
// search compares violations of different measures.
func ExampleLimit() {
	l := constraints.At(objectives.Index("fore_aft_stiffness_n_per_mm"))
	l.Min = 60
	s := &objectives.Score{Values: make([]float64, len(objectives.Measures)), Missing: make([]string, len(objectives.Measures))}
	s.Values[l.Measure] = 55
	fmt.Println(l.Violation(s))
	fmt.Println(l.Amount(s)*objectives.Measures[l.Measure].Scale, objectives.Measures[l.Measure].Unit)
	// Output:
	// fore-aft stiffness (fore_aft_stiffness_n_per_mm): 55 N/mm, 5 N/mm below the minimum of 60 N/mm
	// 5 N/mm
}

// A mechanism that reaches half of the travel is closer to working than one that reaches none.
func ExampleWorks() {
	for _, reached := range []float64{0, 50} {
		fmt.Println(constraints.Works(&objectives.Score{Fault: "dead point", ReachedMM: reached}, 100))
	}
	fmt.Println(constraints.Works(&objectives.Score{ReachedMM: 100}, 100))
	// Output:
	// 20
	// 15
	// 0
}
