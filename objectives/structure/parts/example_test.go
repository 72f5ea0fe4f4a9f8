package parts_test

import (
	"fmt"

	"forkfront/objectives/structure/parts"
)

// A tube of 30 mm with a wall of 8 % of its diameter: A = π · 2.4 · 27.6 mm², I = A (30² + 25.2²) / 16.
func ExampleTubeSection() {
	rules := parts.TubeRules{WallShare: 0.08, MinWallMM: 1.2}
	s := parts.TubeSection(&rules, 30.0)
	fmt.Printf("area %.1f mm², second moment of area %.0f mm⁴\n", s.Area, s.Inertia)
	// Output: area 208.1 mm², second moment of area 19965 mm⁴
}
