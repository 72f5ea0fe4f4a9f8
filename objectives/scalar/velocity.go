package scalar

import (
	"forkfront/kinematics"
	"forkfront/kinematics/plane"
	"forkfront/kinematics/stance"
)

// Velocity is the velocity, in mm per mm of travel, of the point of a body that is at a position in the fork frame.
func Velocity[T kinematics.Scalar](st *stance.State[T], body int, at plane.Vec[T]) plane.Vec[T] {
	arm, turn := at.Minus(st.Pose[body].At), st.Rate[body].Turn
	return plane.Vec[T]{Along: st.Rate[body].At.Along - arm.Ahead*turn, Ahead: st.Rate[body].At.Ahead + arm.Along*turn}
}
