package objectives

import (
	"math"
	"testing"

	"forkfront/kinematics/stance"
	"forkfront/objectives/ride"
)

// A published example of a car: front brake share 0.60, wheelbase 2550, height of the centre of gravity
// 600, anti-dive 25 %. The line from the contact point to the instant centre rises by 5.5993 degrees (the
// page prints 5.6); the contact point of a locked wheel goes square to it.
func TestAntiDiveOfAPublishedAngle(t *testing.T) {
	c := &stance.Chassis{WheelbaseMM: 2550, CGHeightMM: 600, FrontBrakeShare: 0.60}
	sin, cos := math.Sincos(5.5993 * deg)
	s := &stance.State[float64]{ContactVX: sin, VZ: cos}
	if got := ride.AntiDive(c, s); math.Abs(got-25) > 3e-4 { // half of the angle's last digit
		t.Errorf("%.5f %%, want 25", got)
	}
}
