package structure

import (
	"forkfront/kinematics"
	"forkfront/kinematics/plane"
	"forkfront/kinematics/stance"
	"forkfront/objectives/ride"
)

// applied is what a load case puts on a fork from outside at one state, in the fork frame.
type applied[T kinematics.Scalar] struct {
	force  plane.Vec[T] // on the axle's body, at the axle, N
	couple T            // brake torque on the caliper's body, N·mm
	side   float64
}

// inPlane tells whether some of it acts in the plane.
func (a *applied[T]) inPlane() bool { return a.force != plane.Vec[T]{} || a.couple != 0 }

// inFork rotates a force in N, forward and up, into the fork frame.
func inFork[T kinematics.Scalar](st *stance.State[T], forward, up float64) plane.Vec[T] {
	x, z := kinematics.Lift[T](forward), kinematics.Lift[T](up)
	return plane.Vec[T]{Along: x*st.CosHead - z*st.SinHead, Ahead: x*st.SinHead + z*st.CosHead}
}

// braked is a force at the contact point of a wheel that its brake locks to the caliper's body: the
// force at the axle, and the torque about it that the caliper carries. A vertical force has none.
func braked[T kinematics.Scalar](c *ride.Setting, st *stance.State[T], backward, up float64) applied[T] {
	return applied[T]{force: inFork(st, -backward, up), couple: kinematics.Lift[T](-backward * c.Chassis.FrontRadiusMM)}
}

// on is what the case applies at a state.
func on[T kinematics.Scalar](l *LoadCase, c *ride.Setting, st *stance.State[T]) applied[T] {
	if t := l.Test; t != nil {
		return testLoad[T](t, c)
	}
	backward, up := 0.0, l.VerticalStatic*c.FrontLoadN()
	if l.TyreFriction > 0 {
		force, load := c.HardBraking(l.TyreFriction)
		backward, up = force, up+load
	}
	a := braked(c, st, backward, up)
	a.force.Ahead -= kinematics.Lift[T](l.RearwardN)
	a.side = l.SideStatic * c.FrontLoadN()
	return a
}

// testLoad is what a test applies at the hub.
func testLoad[T kinematics.Scalar](t *ProofTest, c *ride.Setting) applied[T] {
	a := applied[T]{force: plane.Vec[T]{Along: kinematics.Lift[T](t.AlongN), Ahead: kinematics.Lift[T](-t.RearwardN)}}
	if t.Braked {
		arm := t.BrakeArmMM
		if arm == 0 {
			arm = c.Chassis.FrontRadiusMM
		}
		a.couple = kinematics.Lift[T](-t.RearwardN * arm)
	}
	return a
}

// shockPush is the force of all shocks together in compression that balances what is applied, by
// virtual work per mm of travel.
func shockPush[T kinematics.Scalar](a *applied[T], st *stance.State[T]) T {
	return (a.force.Ahead*st.AheadRate - a.force.Along + a.couple*st.BrakeRate) / st.ShockRate
}
