package ride

import (
	"math"

	"forkfront/kinematics"
)

// Straightness is the width in mm of the minimum zone of the axle path (ISO 1101).
func Straightness[T kinematics.Scalar](s *Ride[T]) T {
	a, b := s.axle(s.zone.edge[0]), s.axle(s.zone.edge[1])
	dx, dy := b.Along-a.Along, b.Ahead-a.Ahead
	return offLine(a, b, s.axle(s.zone.far)) / kinematics.Sqrt(dx*dx+dy*dy)
}

// Inclination is the angle in degrees from the steering axis to the line of the minimum zone, positive if the axle
// moves forward in compression.
func Inclination[T kinematics.Scalar](s *Ride[T]) T {
	a, b := s.axle(s.zone.edge[0]), s.axle(s.zone.edge[1])
	up, ahead := a.Along-b.Along, b.Ahead-a.Ahead
	if kinematics.Real(up) < 0 {
		up, ahead = -up, -ahead
	}
	return Degrees(kinematics.Atan2(ahead, up))
}

// Degrees converts radians to degrees.
func Degrees[T kinematics.Scalar](x T) T { return x * kinematics.Lift[T](180/math.Pi) }

// OffsetVariation is the largest minus the smallest distance of the axle ahead of the steering axis, in mm.
func OffsetVariation[T kinematics.Scalar](s *Ride[T]) T {
	e := &s.extremes.ahead
	return s.At(e.high).Ahead - s.At(e.low).Ahead
}

// TrailVariation is the largest minus the smallest trail over the travel, in mm.
func TrailVariation[T kinematics.Scalar](s *Ride[T]) T {
	e := &s.extremes.trail
	return s.At(e.high).TrailMM - s.At(e.low).TrailMM
}

// TrailAtSag is the trail at sag, in mm.
func TrailAtSag[T kinematics.Scalar](s *Ride[T]) T { return s.Sag.TrailMM }

// TrailMin is the smallest trail over the travel, in mm; negative where the contact point is ahead of the steering axis.
func TrailMin[T kinematics.Scalar](s *Ride[T]) T { return s.At(s.extremes.trail.low).TrailMM }

// WheelbaseVariation is the largest minus the smallest wheelbase over the travel, in mm.
func WheelbaseVariation[T kinematics.Scalar](s *Ride[T]) T {
	e := &s.extremes.wheelbase
	return s.At(e.high).WheelbaseMM - s.At(e.low).WheelbaseMM
}

// TrailVersusTelescopic is the largest difference from the trail of the telescopic baseline at the same travel, in mm.
func TrailVersusTelescopic[T kinematics.Scalar](s *Ride[T]) T {
	worst := s.extremes.versus.high
	return kinematics.Abs(s.At(worst).TrailMM - kinematics.Lift[T](s.baseline.Ride.States[worst].TrailMM))
}

// TrailLoss is the trail at sag minus the trail at rest under braking, in mm.
func TrailLoss[T kinematics.Scalar](s *Ride[T]) T { return s.Sag.TrailMM - s.restState.TrailMM }

// TransmissionAngleMin is the smallest transmission angle over the travel, in degrees from 0 to 90.
func TransmissionAngleMin[T kinematics.Scalar](s *Ride[T]) T {
	sine := s.At(s.extremes.sine.low).SineMin
	cosine := kinematics.Lift[T](0)
	if square := 1 - sine*sine; kinematics.Real(square) > 0 {
		cosine = kinematics.Sqrt(square)
	}
	return Degrees(kinematics.Atan2(sine, cosine))
}

// AxlePathAngle is the angle in degrees of the axle's path at sag from the vertical, positive if the axle moves rearward in
// compression.
func AxlePathAngle[T kinematics.Scalar](s *Ride[T]) T {
	return Degrees(kinematics.Atan2(-s.Sag.VX, s.Sag.VZ))
}
