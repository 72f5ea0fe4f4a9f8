package stance

import (
	"forkfront/kinematics/plane"
)

// State is a fork at one travel. Rates are per mm of travel; velocities are relative to the frame
// and lie in the ground frame at the current head angle.
type State[T plane.Scalar] struct {
	TravelMM         T
	Along, Ahead     T // axle in the fork frame, mm
	AheadRate        T // d ahead / d travel
	SinHead, CosHead T // of the head angle
	SinSteer         T // of the steering axis' angle; the head angle's unless it runs through balls
	CosSteer         T
	OffsetMM         T // axle ahead of the steering axis
	TrailMM          T
	WheelbaseMM      T
	VX, VZ           T // axle velocity, forward and up
	BrakeRate        T // angular rate of the caliper's body, rad/mm, positive from along to ahead
	ContactVX        T // forward velocity of the contact point, the wheel locked to the caliper's body
	ShockMM          T // length of the shock between its eyes
	ShockRate        T // compression per mm of travel
	SineMin          T // sine of the smallest angle between the two links of any dyad; 1 without dyads
	Drive            Drive
	Pose             []plane.Pose[T] // by body
	Rate             []plane.Rate[T] // by body
}

// Second holds second derivatives per mm of travel squared, at one state.
type Second[T plane.Scalar] struct {
	Ahead     T // d² ahead / d travel²
	VZ        T // d VZ / d travel, the turning of the head angle included
	ShockMM   T // d² compression / d travel²
	HeadTurn  T // d head angle / d travel, rad/mm
	ContactVX T // d ContactVX / d travel
}

// Lift takes over plain second derivatives, without derivatives of their own.
func (d *Second[T]) Lift(from *Second[float64]) {
	d.Ahead, d.VZ, d.ShockMM = plane.Lift[T](from.Ahead), plane.Lift[T](from.VZ), plane.Lift[T](from.ShockMM)
	d.HeadTurn, d.ContactVX = plane.Lift[T](from.HeadTurn), plane.Lift[T](from.ContactVX)
}

// Copy takes over all of another state; the two share no memory.
func (s *State[T]) Copy(from *State[T]) {
	pose, rate := s.Pose[:0], s.Rate[:0]
	*s = *from
	s.Pose, s.Rate = append(pose, from.Pose...), append(rate, from.Rate...)
}

// HeadAngle is the angle of the steering axis from the ground, rear side, in radians.
func (s *State[T]) HeadAngle() T { return plane.Atan2(s.SinHead, s.CosHead) }

// Drive is how far the driving body has come since top-out: the cosine and sine of its turn, or
// its way along its slide in mm.
type Drive struct{ Cos, Sin, Way float64 }
