package simulation

import (
	"forkfront/kinematics"
	"forkfront/objectives/quarter"
	"forkfront/objectives/ride"
)

// Setting is what all forks of a case have in common in events, apart from their ride.Setting.
type Setting struct {
	FrontTyreNPerMM, RearTyreNPerMM float64
	UnsprungRearKG                  float64                 // what moves with the rear axle
	PitchInertia                    float64                 // of the sprung mass about its centre, over its mass times the square of the wheelbase
	HandsMM                         kinematics.Vec[float64] // fork frame
	Rear                            *RearSuspension         // nil: the rear axle is fixed to the frame
	StopMPerS                       float64                 // speed from which the hard stop begins
	DropMM                          float64                 // height
	Bump                            Bump
	RoadClass                       byte // of ISO 8608
	RoadMPerS                       float64
}

// RearSuspension lets the rear axle move along the vertical of the frame at top-out, on a linear spring without preload.
type RearSuspension struct{ RateNPerMM, DampingNSPerM float64 }

// Bump is a trapezoid across the road, and the speeds at which it is met with the brake off and on.
type Bump struct {
	HeightMM, RampMM, TopMM float64
	FreeMPerS, BrakedMPerS  float64
}

// Fork is one fork as it is simulated. Its static load balances at sag.
type Fork struct {
	Ride   *ride.Ride[float64]
	Motion Solver
	quarter.Adjustment
	FrictionN float64 // along the travel at the axle, the brake off
	BrakedN   float64 // the same in a hard stop
}
