package sideview

import (
	"math"
	"math/rand/v2"
	"testing"

	"forkfront/kinematics"
	"forkfront/kinematics/stance"
	"forkfront/objectives"
	"forkfront/objectives/ride"
)

// Points of the fork frame come back from the ground at top-out, where the head angle is the bike's.
func TestGroundFrameRoundTrip(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 1))
	for range 200 {
		c := stance.Chassis{
			HeadAngle: (60 + 20*r.Float64()) * math.Pi / 180, WheelbaseMM: 1000 + 600*r.Float64(), FrontRadiusMM: 200 + 200*r.Float64(),
			RearRadiusMM: 200 + 200*r.Float64(), AxleToCrownMM: 300 + 300*r.Float64(), ForkOffsetMM: 80*r.Float64() - 20,
		}
		s := &Solved{Fork: &Fork{Conditions: &objectives.Conditions{Setting: ride.Setting{Chassis: c}}}}
		sin, cos := math.Sincos(c.HeadAngle)
		top := &stance.State[float64]{SinHead: sin, CosHead: cos}
		p := kinematics.Vec[float64]{Along: 900*r.Float64() - 400, Ahead: 900*r.Float64() - 400}
		if back := FromGround(&c, s.Ground(top, p)); kinematics.Distance(p, back) > 1e-9 {
			t.Fatalf("%v comes back as %v", p, back)
		}
		// The axle stands a wheelbase ahead of the rear contact point and a front radius high (closed form).
		axle := s.Ground(top, kinematics.Vec[float64]{Along: c.AxleToCrownMM, Ahead: c.ForkOffsetMM})
		if math.Abs(axle.X-c.WheelbaseMM) > 1e-9 || math.Abs(axle.Z-c.FrontRadiusMM) > 1e-9 {
			t.Fatalf("axle at %v, wheelbase %g, radius %g", axle, c.WheelbaseMM, c.FrontRadiusMM)
		}
	}
}
