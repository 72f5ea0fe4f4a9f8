package stance

import (
	"math"

	"forkfront/kinematics/plane"
)

// Attitude holds what the chassis fixes for every travel: the rear axle in the fork frame and how
// far the front axle stands above the rear one.
type Attitude struct {
	Chassis  *Chassis
	rear     plane.Vec[float64]
	rise     float64 // front minus rear radius, mm
	sin, cos float64 // of the head angle at top-out
}

// Attitude is what the chassis fixes for every travel.
func (c *Chassis) Attitude() Attitude {
	sin, cos := math.Sincos(c.HeadAngle)
	rise := c.FrontRadiusMM - c.RearRadiusMM
	along := c.WheelbaseMM*cos - rise*sin
	ahead := c.WheelbaseMM*sin + rise*cos
	return Attitude{Chassis: c, rear: plane.Vec[float64]{Along: c.AxleToCrownMM - along, Ahead: c.ForkOffsetMM - ahead}, rise: rise, sin: sin, cos: cos}
}

// Stand fills in head angle, wheelbase and trail of a state from its axle position: pitching, both
// wheels stay on level ground; level, the head angle stays as given.
func Stand[T plane.Scalar](a *Attitude, s *State[T]) {
	between := plane.Vec[T]{Along: s.Along - plane.Lift[T](a.rear.Along), Ahead: s.Ahead - plane.Lift[T](a.rear.Ahead)}
	s.SinHead, s.CosHead = plane.Lift[T](a.sin), plane.Lift[T](a.cos)
	if a.Chassis.Level {
		s.WheelbaseMM = between.Along*s.CosHead + between.Ahead*s.SinHead
	} else {
		rise := plane.Lift[T](a.rise)
		square := between.Dot(between)
		s.WheelbaseMM = plane.Sqrt(square - rise*rise)
		inverse := plane.Inverse(square)
		s.CosHead = (between.Along*s.WheelbaseMM + between.Ahead*rise) * inverse
		s.SinHead = (between.Ahead*s.WheelbaseMM - between.Along*rise) * inverse
	}
	s.SinSteer, s.CosSteer, s.OffsetMM = s.SinHead, s.CosHead, s.Ahead
	s.TrailMM = (plane.Lift[T](a.Chassis.FrontRadiusMM)*s.CosHead - s.Ahead) * plane.Inverse(s.SinHead)
}

// StandAll is stand for many states, in plain numbers only, with the velocities that follow from the
// rates.
func (a *Attitude) StandAll(states []State[float64]) {
	rear, radius, rise, level := a.rear, a.Chassis.FrontRadiusMM, a.rise, a.Chassis.Level
	for i := range states {
		s := &states[i]
		x, y := s.Along-rear.Along, s.Ahead-rear.Ahead
		sin, cos := a.sin, a.cos
		wheelbase := x*cos + y*sin
		if !level {
			square := x*x + y*y
			inverse := 1 / square
			wheelbase = math.Sqrt(square - rise*rise)
			cos = (x*wheelbase + y*rise) * inverse
			sin = (y*wheelbase - x*rise) * inverse
		}
		s.WheelbaseMM, s.TrailMM = wheelbase, (radius*cos-s.Ahead)/sin
		s.SinHead, s.CosHead, s.SinSteer, s.CosSteer, s.OffsetMM = sin, cos, sin, cos, s.Ahead
		vx := s.AheadRate*sin - cos
		s.VX, s.VZ, s.ContactVX = vx, s.AheadRate*cos+sin, vx+s.BrakeRate*radius
	}
}

// Trail returns the distance along level ground, in mm, from the front contact point to
// where the steering axis meets the ground. It is positive when the axis meets the ground
// ahead of the contact point:
//
//	trail = (R cos H − a) / sin H
//
// R is the front radius and a the distance of the axle ahead of the steering axis, both in
// mm; H is the head angle in radians, 0 < H < π.
func Trail(radius, ahead, headAngle float64) float64 {
	sin, cos := math.Sincos(headAngle)
	return (radius*cos - ahead) / sin
}

// RearAxle returns the rear axle's place in the fork frame, to which the frame is fixed. The chassis
// stands as it does at top-out.
func (c *Chassis) RearAxle() plane.Vec[float64] { return c.Attitude().rear }
