package table_test

import (
	"fmt"

	"forkfront/results/table"
)

// The longest suffix counts: a spring rate is in N/mm, not in mm.
func ExampleUnitOfName() {
	fmt.Println(table.UnitOfName("trail_variation_mm"), table.UnitOfName("spring_rate_n_per_mm"))
	// Output: mm N/mm
}

func ExampleLabel() {
	fmt.Println(table.Label("anti_dive_at_sag_pct"))
	// Output: anti-dive at sag
}
