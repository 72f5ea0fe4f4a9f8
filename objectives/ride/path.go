package ride

import (
	"math"

	"forkfront/kinematics"
)

func Straightness[T kinematics.Scalar](s *Ride[T]) T {
	a, b := s.axle(s.zone.edge[0]), s.axle(s.zone.edge[1])
	dx, dy := b.Along-a.Along, b.Ahead-a.Ahead
	return offLine(a, b, s.axle(s.zone.far)) / kinematics.Sqrt(dx*dx+dy*dy)
}

// Inclination reads the zone's line going up the travel.
func Inclination[T kinematics.Scalar](s *Ride[T]) T {
	a, b := s.axle(s.zone.edge[0]), s.axle(s.zone.edge[1])
	up, ahead := a.Along-b.Along, b.Ahead-a.Ahead
	if kinematics.Real(up) < 0 {
		up, ahead = -up, -ahead
	}
	return Degrees(kinematics.Atan2(ahead, up))
}

func Degrees[T kinematics.Scalar](x T) T { return x * kinematics.Lift[T](180/math.Pi) }

func OffsetVariation[T kinematics.Scalar](s *Ride[T]) T {
	e := &s.peaks.ahead
	return s.At(e.high).Ahead - s.At(e.low).Ahead
}

func TrailVariation[T kinematics.Scalar](s *Ride[T]) T {
	e := &s.peaks.trail
	return s.At(e.high).TrailMM - s.At(e.low).TrailMM
}

func TrailAtSag[T kinematics.Scalar](s *Ride[T]) T { return s.Sag.TrailMM }

func TrailMin[T kinematics.Scalar](s *Ride[T]) T { return s.At(s.peaks.trail.low).TrailMM }

func WheelbaseVariation[T kinematics.Scalar](s *Ride[T]) T {
	e := &s.peaks.wheelbase
	return s.At(e.high).WheelbaseMM - s.At(e.low).WheelbaseMM
}

func TrailVersusTelescopic[T kinematics.Scalar](s *Ride[T]) T {
	worst := s.peaks.versus.high
	return kinematics.Abs(s.At(worst).TrailMM - kinematics.Lift[T](s.baseline.Ride.States[worst].TrailMM))
}

func TrailLoss[T kinematics.Scalar](s *Ride[T]) T { return s.Sag.TrailMM - s.dived.TrailMM }

func TransmissionAngleMin[T kinematics.Scalar](s *Ride[T]) T {
	sine := s.At(s.peaks.sine.low).SineMin
	cosine := kinematics.Lift[T](0)
	if square := 1 - sine*sine; kinematics.Real(square) > 0 {
		cosine = kinematics.Sqrt(square)
	}
	return Degrees(kinematics.Atan2(sine, cosine))
}
