package objectives

import (
	"math"

	"forkfront/kinematics"
)

func straightness[T kinematics.Scalar](s *Subject[T]) T {
	a, b := s.axle(s.zone.edge[0]), s.axle(s.zone.edge[1])
	dx, dy := b.Along-a.Along, b.Ahead-a.Ahead
	return offLine(a, b, s.axle(s.zone.far)) / kinematics.Sqrt(dx*dx+dy*dy)
}

// inclination reads the zone's line going up the travel.
func inclination[T kinematics.Scalar](s *Subject[T]) T {
	a, b := s.axle(s.zone.edge[0]), s.axle(s.zone.edge[1])
	up, ahead := a.Along-b.Along, b.Ahead-a.Ahead
	if kinematics.Real(up) < 0 {
		up, ahead = -up, -ahead
	}
	return degrees(kinematics.Atan2(ahead, up))
}

func degrees[T kinematics.Scalar](x T) T { return x * kinematics.Lift[T](180/math.Pi) }

func lower[T kinematics.Scalar](a, b T) T {
	if kinematics.Real(b) < kinematics.Real(a) {
		return b
	}
	return a
}

func higher[T kinematics.Scalar](a, b T) T {
	if kinematics.Real(b) > kinematics.Real(a) {
		return b
	}
	return a
}

func offsetVariation[T kinematics.Scalar](s *Subject[T]) T {
	e := &s.peaks.ahead
	return s.at(e.high).Ahead - s.at(e.low).Ahead
}

func trailVariation[T kinematics.Scalar](s *Subject[T]) T {
	e := &s.peaks.trail
	return s.at(e.high).TrailMM - s.at(e.low).TrailMM
}

func trailAtSag[T kinematics.Scalar](s *Subject[T]) T { return s.Sag.TrailMM }

func trailMin[T kinematics.Scalar](s *Subject[T]) T { return s.at(s.peaks.trail.low).TrailMM }

func wheelbaseVariation[T kinematics.Scalar](s *Subject[T]) T {
	e := &s.peaks.wheelbase
	return s.at(e.high).WheelbaseMM - s.at(e.low).WheelbaseMM
}

func trailVersus[T kinematics.Scalar](s *Subject[T]) T {
	worst := s.peaks.versus.high
	return kinematics.Abs(s.at(worst).TrailMM - kinematics.Lift[T](s.Conditions.Baseline.States[worst].TrailMM))
}

func trailLoss[T kinematics.Scalar](s *Subject[T]) T { return s.Sag.TrailMM - s.dived.TrailMM }

func transmission[T kinematics.Scalar](s *Subject[T]) T {
	sine := s.at(s.peaks.sine.low).SineMin
	cosine := kinematics.Lift[T](0)
	if square := 1 - sine*sine; kinematics.Real(square) > 0 {
		cosine = kinematics.Sqrt(square)
	}
	return degrees(kinematics.Atan2(sine, cosine))
}
