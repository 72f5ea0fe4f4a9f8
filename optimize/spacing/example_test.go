package spacing_test

import (
	"fmt"

	"forkfront/optimize/spacing"
)

// Two points lie close together in the middle; the ends stay.
func ExampleSpread() {
	points := [][]float64{{0, 10}, {4, 5}, {4.5, 4.5}, {10, 0}}
	fmt.Println(spacing.Spread(points, 3))
	// Output: [0 2 3]
}

// Columns count alike, whatever their units.
func ExampleNormalised() {
	fmt.Println(spacing.Normalised([][]float64{{10, 0}, {20, 0.5}, {30, 0.25}}))
	// Output: [[0 0] [0.5 1] [1 0.5]]
}
