package stance

import (
	"forkfront/kinematics/plane"
)

// SteeringAngle is the angle of the steering axis from the ground, rear side, in radians: the head
// angle unless the axis runs through ball joints.
func (s *State[T]) SteeringAngle() T { return plane.Atan2(s.SinSteer, s.CosSteer) }
