package stance_test

import (
	"fmt"
	"math"

	"forkfront/kinematics/stance"
)

// A wheel of 350 mm radius at a head angle of 66°, the axle 44 mm ahead of the steering axis.
func ExampleTrail() {
	fmt.Printf("%.1f mm\n", stance.Trail(350, 44, 66*math.Pi/180))
	// Output: 107.7 mm
}

// The telescopic fork of a bike whose head angle stays as given: its trail does not change.
func ExampleChassis_Telescopic() {
	bike := stance.Chassis{
		HeadAngle: 70 * math.Pi / 180, WheelbaseMM: 1300, FrontRadiusMM: 258, RearRadiusMM: 258, AxleToCrownMM: 408, ForkOffsetMM: 38, Level: true,
	}
	var at stance.State[float64]
	for _, travel := range []float64{0, 100} {
		bike.Telescopic(&at, nil, travel)
		fmt.Printf("at %g mm: trail %.1f mm, wheelbase %.1f mm\n", travel, at.TrailMM, at.WheelbaseMM)
	}
	// Output:
	// at 0 mm: trail 53.5 mm, wheelbase 1300.0 mm
	// at 100 mm: trail 53.5 mm, wheelbase 1265.8 mm
}
