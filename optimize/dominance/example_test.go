package dominance_test

import (
	"fmt"

	"forkfront/optimize/dominance"
)

func ExampleNondominated() {
	fmt.Println(dominance.Nondominated([][]float64{{1, 4}, {2, 2}, {3, 3}, {4, 1}}))
	// Output: [[1 4] [2 2] [4 1]]
}

// The second layer holds what only the first one dominates. Points are given by their numbers.
func ExampleSorter_Layers() {
	var s dominance.Sorter
	fmt.Println(s.Layers([][]float64{{3, 3}, {1, 4}, {2, 2}, {4, 4}}))
	// Output: [[1 2] [0] [3]]
}
