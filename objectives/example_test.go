package objectives_test

import (
	"fmt"

	"forkfront/objectives"
	"forkfront/objectives/ride"
)

// A search minimises all objectives: a measure to be large changes its sign, and of a band only the distance outside
// it counts.
func ExampleGoal_Value() {
	band := objectives.Goal{Aim: objectives.Within, Band: ride.Band{Low: 60, High: 80}}
	fmt.Println(band.Value(55), band.Value(70), band.Value(83))
	enough := 40.0
	large := objectives.Goal{Aim: objectives.Largest, Enough: &enough}
	fmt.Println(large.Value(30), large.Value(45))
	// Output:
	// 5 0 3
	// -30 -40
}

// Large values stay without an exponent.
func ExampleDigits() {
	fmt.Println(objectives.Digits(0.123456, 4), objectives.Digits(23500.4, 4))
	// Output: 0.1235 23500
}
