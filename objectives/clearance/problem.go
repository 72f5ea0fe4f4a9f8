package clearance

import (
	"forkfront/kinematics"
	"forkfront/kinematics/mechanism"
	"forkfront/kinematics/plane"
	"forkfront/kinematics/stance"
)

// problem is one fork whose assembly is searched.
type problem struct {
	assembly *Assembly
	m        *mechanism.Mechanism
	motion   *kinematics.Motion
	states   []stance.State[float64] // by sample
	layout   []plane.Vec[float64]    // by point, mm
	members  []float64               // radius by member, mm
	last     int                     // sample
}
