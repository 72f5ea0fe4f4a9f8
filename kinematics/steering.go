package kinematics

import (
	"math"

	"forkfront/kinematics/plane"
)

// steer reads the steering axis through both balls, and trail from it. Its line down from the upper
// ball is that of the fork frame turned from along to ahead by some angle, which makes the axis so
// much flatter.
func (l *linkage[T]) steer(s *State[T], a *attitude) {
	lower, upper := l.at(l.m.balls[0]), l.at(l.m.balls[1])
	down := lower.Minus(upper)
	down = down.Times(plane.Inverse(plane.Sqrt(down.Dot(down))))
	s.SinSteer = s.SinHead*down.Along - s.CosHead*down.Ahead
	s.CosSteer = s.CosHead*down.Along + s.SinHead*down.Ahead
	s.OffsetMM = down.Cross(plane.Vec[T]{Along: s.Along, Ahead: s.Ahead}.Minus(lower))
	s.TrailMM = (plane.Lift[T](a.chassis.FrontRadiusMM)*s.CosSteer - s.OffsetMM) * plane.Inverse(s.SinSteer)
}

// SteeringAngle is the angle of the steering axis from the ground, rear side, in radians: the head
// angle unless the axis runs through ball joints.
func (s *State[T]) SteeringAngle() T { return plane.Atan2(s.SinSteer, s.CosSteer) }

// SteeringDeviation tells how far the axis through the balls is off that of the chassis at top-out: the
// angle of the axis minus the head angle, in radians, and the axle's distance ahead of it minus the
// fork offset, in mm. Both are 0 where the axis is the fork frame's.
func (c *Chassis) SteeringDeviation(m *Mechanism, layout []plane.Vec[float64]) (angle, offsetMM float64) {
	lower, upper, ok := m.Balls()
	if !ok {
		return 0, 0
	}
	down := layout[lower].Minus(layout[upper])
	length := math.Hypot(down.Along, down.Ahead)
	axle := plane.Vec[float64]{Along: c.AxleToCrownMM, Ahead: c.ForkOffsetMM}.Minus(layout[lower])
	return -math.Atan2(down.Ahead, down.Along), down.Cross(axle)/length - c.ForkOffsetMM
}
