package kinematics_test

import (
	"fmt"
	"math"

	"forkfront/kinematics"
)

// A wheel of 350 mm radius at a head angle of 66°, the axle 44 mm ahead of the steering axis.
func ExampleTrail() {
	fmt.Printf("%.1f mm\n", kinematics.Trail(350, 44, 66*math.Pi/180))
	// Output: 107.7 mm
}

// The telescopic fork of a bike whose head angle stays as given: its trail does not change.
func ExampleChassis_Telescopic() {
	bike := kinematics.Chassis{
		HeadAngle: 70 * math.Pi / 180, WheelbaseMM: 1300, FrontRadiusMM: 258, RearRadiusMM: 258, AxleToCrownMM: 408, ForkOffsetMM: 38, Level: true,
	}
	var at kinematics.State[float64]
	for _, travel := range []float64{0, 100} {
		bike.Telescopic(&at, nil, travel)
		fmt.Printf("at %g mm: trail %.1f mm, wheelbase %.1f mm\n", travel, at.TrailMM, at.WheelbaseMM)
	}
	// Output:
	// at 0 mm: trail 53.5 mm, wheelbase 1300.0 mm
	// at 100 mm: trail 53.5 mm, wheelbase 1265.8 mm
}

// A parallelogram of equal links moves its axle on a circle of the links' length, and stops where these point
// along the steering axis.
func ExampleMotion_Sweep() {
	m, faults := kinematics.Compile(kinematics.MechanismSpec{
		Name: "parallelogram", Ground: "crown", Bodies: []string{"crown", "lower_link", "upper_link", "blade"},
		Pivots: []kinematics.PivotSpec{
			{Name: "lower_rear", Bodies: []string{"crown", "lower_link"}},
			{Name: "lower_front", Bodies: []string{"lower_link", "blade"}},
			{Name: "upper_rear", Bodies: []string{"crown", "upper_link"}},
			{Name: "upper_front", Bodies: []string{"upper_link", "blade"}},
		},
		Axle: "blade",
	})
	if len(faults) > 0 {
		panic(faults)
	}
	bike := kinematics.Chassis{
		HeadAngle: 70 * math.Pi / 180, WheelbaseMM: 1300, FrontRadiusMM: 258, RearRadiusMM: 258, AxleToCrownMM: 408, ForkOffsetMM: 38,
	}
	layout := make([]kinematics.Vec[float64], len(m.Points))
	for name, at := range map[string]kinematics.Vec[float64]{
		"axle": {Along: 408, Ahead: 38}, "root": {},
		"lower_rear": {Ahead: 50}, "lower_front": {Ahead: 150}, "upper_rear": {Along: -80, Ahead: 50}, "upper_front": {Along: -80, Ahead: 150},
	} {
		layout[m.Point(name)] = at
	}
	var motion kinematics.Motion
	motion.Sweep(m, &bike, layout, 60, 3)
	for _, s := range motion.States {
		fmt.Printf("at %g mm: axle %.1f mm ahead\n", s.TravelMM, s.Ahead)
	}
	motion.Sweep(m, &bike, layout, 140, 3)
	fmt.Printf("reached %.3f mm: %s\n", motion.ReachedMM, motion.Fault)
	// Output:
	// at 0 mm: axle 38.0 mm ahead
	// at 30 mm: axle 33.4 mm ahead
	// at 60 mm: axle 18.0 mm ahead
	// reached 100.000 mm: the axle comes to a dead point and would turn back
}
