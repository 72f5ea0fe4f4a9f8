package scalar

import (
	"forkfront/kinematics"
	"forkfront/kinematics/plane"
)

// Velocity of a place on a body, per mm of travel.
func Velocity[T kinematics.Scalar](st *kinematics.State[T], body int, at plane.Vec[T]) plane.Vec[T] {
	arm, turn := at.Minus(st.Pose[body].At), st.Rate[body].Turn
	return plane.Vec[T]{Along: st.Rate[body].At.Along - arm.Ahead*turn, Ahead: st.Rate[body].At.Ahead + arm.Along*turn}
}
