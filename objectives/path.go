package objectives

import (
	"math"

	"forkfront/kinematics"
)

func straightness[T kinematics.Scalar](s *Subject[T]) T { return s.straight.width }

func lean[T kinematics.Scalar](s *Subject[T]) T {
	along, ahead := s.straight.along.Along, s.straight.along.Ahead
	if kinematics.Real(along) > 0 { // the line is read going up the travel
		along, ahead = -along, -ahead
	}
	return degrees(kinematics.Atan2(ahead, -along))
}

func degrees[T kinematics.Scalar](x T) T { return x * kinematics.Lift[T](180/math.Pi) }

// variation is the largest minus the smallest of a curve.
func variation[T kinematics.Scalar](s *Subject[T], of func(*kinematics.State[T]) T) T {
	low, high := of(&s.States[0]), of(&s.States[0])
	for i := range s.States {
		x := of(&s.States[i])
		low, high = lower(low, x), higher(high, x)
	}
	return high - low
}

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
	return variation(s, func(st *kinematics.State[T]) T { return st.Ahead })
}

func trailVariation[T kinematics.Scalar](s *Subject[T]) T {
	return variation(s, func(st *kinematics.State[T]) T { return st.TrailMM })
}

func wheelbaseVariation[T kinematics.Scalar](s *Subject[T]) T {
	return variation(s, func(st *kinematics.State[T]) T { return st.WheelbaseMM })
}

func trailVersus[T kinematics.Scalar](s *Subject[T]) T {
	var most T
	for i := range s.States {
		other := kinematics.Lift[T](s.Conditions.Baseline.States[i].TrailMM)
		most = higher(most, kinematics.Abs(s.States[i].TrailMM-other))
	}
	return most
}

func trailLoss[T kinematics.Scalar](s *Subject[T]) T { return s.Sag.TrailMM - s.dived.TrailMM }

func transmission[T kinematics.Scalar](s *Subject[T]) T {
	sine := kinematics.Lift[T](1)
	for i := range s.States {
		sine = lower(sine, s.States[i].SineMin)
	}
	cosine := kinematics.Lift[T](0)
	if square := 1 - sine*sine; kinematics.Real(square) > 0 {
		cosine = kinematics.Sqrt(square)
	}
	return degrees(kinematics.Atan2(sine, cosine))
}
