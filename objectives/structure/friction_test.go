package structure

import (
	"math"
	"testing"

	"forkfront/kinematics/stance"
	"forkfront/objectives/ride"
)

// The telescopic fork's bushes in closed form. The fork upright, a braking force B at the contact point
// a radius R below the axle, the upper bush ℓ above the axle and the lower one s below it: the lower
// bears B (R + ℓ)/s, the upper as much less B. A load up alone goes along the legs and presses neither.
func TestTelescopicFriction(t *testing.T) {
	c := &ride.Setting{Chassis: stance.Chassis{FrontRadiusMM: 350}, TravelMM: 150}
	r := &Replaced{BushFriction: 0.05, BushOverlapMM: 100, LowersMM: 400}
	st := &stance.State[float64]{TravelMM: 50, SinHead: 1}
	if got := telescopicFriction(c, r, st, 0, 900); got > 1e-12 {
		t.Errorf("%g N without a brake on an upright fork", got)
	}
	want := 0.05 * 700 * (2*(350+400.)/150 - 1)
	if got := telescopicFriction(c, r, st, 700, 900); math.Abs(got-want) > 1e-9 {
		t.Errorf("%g N, want %g", got, want)
	}
}
