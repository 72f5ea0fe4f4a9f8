package naming_test

import (
	"fmt"

	"forkfront/objectives/naming"
)

// The longest suffix counts: a spring rate is in N/mm, not in mm.
func ExampleUnit() {
	fmt.Println(naming.Unit("trail_variation_mm"), naming.Unit("spring_rate_n_per_mm"))
	// Output: mm N/mm
}

func ExampleLabel() {
	fmt.Println(naming.Label("anti_dive_at_sag_pct"))
	fmt.Println(naming.Label("bearing_load_max_n"))
	// Output:
	// anti-dive at sag
	// largest bearing load
}
