package loads

import (
	"forkfront/kinematics"
	"forkfront/kinematics/plane"
	"forkfront/kinematics/stance"
	"forkfront/objectives/ride"
)

// Applied is what a load case puts on a fork from outside at one state, in the fork frame.
type Applied[T kinematics.Scalar] struct {
	Force  plane.Vec[T] // on the axle's body, at the axle, N
	Couple T            // brake torque on the caliper's body, N·mm
	Side   float64      // across the plane at the contact point, N
}

// InPlane tells whether some of it acts in the plane.
func (a *Applied[T]) InPlane() bool { return a.Force != plane.Vec[T]{} || a.Couple != 0 }

// InFork rotates a force in N, forward and up, into the fork frame.
func InFork[T kinematics.Scalar](st *stance.State[T], forward, up float64) plane.Vec[T] {
	x, z := kinematics.Lift[T](forward), kinematics.Lift[T](up)
	return plane.Vec[T]{Along: x*st.CosHead - z*st.SinHead, Ahead: x*st.SinHead + z*st.CosHead}
}

// Braked is a force at the contact point of a wheel that its brake locks to the caliper's body: the
// force at the axle, and the torque about it that the caliper carries. A vertical force has none.
func Braked[T kinematics.Scalar](c *ride.Setting, st *stance.State[T], backward, up float64) Applied[T] {
	return Applied[T]{Force: InFork(st, -backward, up), Couple: kinematics.Lift[T](-backward * c.Chassis.FrontRadiusMM)}
}

// Apply is what the case applies at a state.
func Apply[T kinematics.Scalar](l *Case, c *ride.Setting, st *stance.State[T]) Applied[T] {
	if t := l.Test; t != nil {
		return testLoad[T](t, c)
	}
	backward, up := 0.0, l.VerticalStatic*c.FrontLoadN()
	if l.TyreFriction > 0 {
		force, load := c.HardBraking(l.TyreFriction)
		backward, up = force, up+load
	}
	a := Braked(c, st, backward, up)
	a.Force.Ahead -= kinematics.Lift[T](l.RearwardN)
	a.Side = l.SideStatic * c.FrontLoadN()
	return a
}

// testLoad is what a test applies at the hub.
func testLoad[T kinematics.Scalar](t *Test, c *ride.Setting) Applied[T] {
	a := Applied[T]{Force: plane.Vec[T]{Along: kinematics.Lift[T](t.AlongN), Ahead: kinematics.Lift[T](-t.RearwardN)}}
	if t.Braked {
		arm := t.BrakeArmMM
		if arm == 0 {
			arm = c.Chassis.FrontRadiusMM
		}
		a.Couple = kinematics.Lift[T](-t.RearwardN * arm)
	}
	return a
}

// ShockPush is the force of all shocks together in compression that balances what is applied, by
// virtual work per mm of travel.
func ShockPush[T kinematics.Scalar](a *Applied[T], st *stance.State[T]) T {
	return (a.Force.Ahead*st.AheadRate - a.Force.Along + a.Couple*st.BrakeRate) / st.ShockRate
}
