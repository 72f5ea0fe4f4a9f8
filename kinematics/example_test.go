package kinematics_test

import (
	"fmt"
	"math"

	"forkfront/kinematics"
	"forkfront/kinematics/mechanism"
	"forkfront/kinematics/scheme"
	"forkfront/kinematics/stance"
)

// A parallelogram of equal links moves its axle on a circle of the links' length, and stops where these point
// along the steering axis.
func ExampleMotion_Sweep() {
	m, faults := mechanism.Compile(scheme.MechanismSpec{
		Name: "parallelogram", Ground: "crown", Bodies: []string{"crown", "lower_link", "upper_link", "blade"},
		Pivots: []scheme.PivotSpec{
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
	bike := stance.Chassis{
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
