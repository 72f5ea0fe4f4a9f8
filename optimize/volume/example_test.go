package volume_test

import (
	"fmt"

	"forkfront/optimize/volume"
)

// Two points dominate 3·1 + 1·3 of the plane below (4, 4), less the 1·1 that they share.
func ExampleHypervolume() {
	fmt.Println(volume.Hypervolume([][]float64{{1, 3}, {3, 1}}, []float64{4, 4}))
	// Output: 5
}

// The middle one of three points dominates more than either end: 0.6·0.6 below (1.1, 1.1) against 1.1·0.1.
func ExampleBestSubset() {
	points := [][]float64{{0, 1}, {0.5, 0.5}, {1, 0}}
	fmt.Println(volume.BestSubset(points, 1), volume.BestSubset(points, 3))
	// Output: [1] [0 1 2]
}
