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

// lean reads the zone's line going up the travel.
func lean[T kinematics.Scalar](s *Subject[T]) T {
	a, b := s.axle(s.zone.edge[0]), s.axle(s.zone.edge[1])
	up, ahead := a.Along-b.Along, b.Ahead-a.Ahead
	if kinematics.Real(up) < 0 {
		up, ahead = -up, -ahead
	}
	return degrees(kinematics.Atan2(ahead, up))
}

func degrees[T kinematics.Scalar](x T) T { return x * kinematics.Lift[T](180/math.Pi) }

// ends finds the samples from one on at which a curve is smallest and largest.
func (s *Subject[T]) ends(from int, of func(*kinematics.State[T]) T) (low, high int) {
	low, high = from, from
	least, most := math.Inf(1), math.Inf(-1)
	for i := from; i < len(s.States); i++ {
		x := kinematics.Real(of(&s.States[i]))
		if x < least {
			low, least = i, x
		}
		if x > most {
			high, most = i, x
		}
	}
	return low, high
}

// variation is the largest minus the smallest of a curve.
func variation[T kinematics.Scalar](s *Subject[T], of func(*kinematics.State[T]) T) T {
	low, high := s.ends(0, of)
	return of(s.at(high)) - of(s.at(low))
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
	worst, most := 0, -1.0
	for i := range s.States {
		if off := math.Abs(kinematics.Real(s.States[i].TrailMM) - s.Conditions.Baseline.States[i].TrailMM); off > most {
			worst, most = i, off
		}
	}
	return kinematics.Abs(s.at(worst).TrailMM - kinematics.Lift[T](s.Conditions.Baseline.States[worst].TrailMM))
}

func trailLoss[T kinematics.Scalar](s *Subject[T]) T { return s.Sag.TrailMM - s.dived.TrailMM }

func transmission[T kinematics.Scalar](s *Subject[T]) T {
	low, _ := s.ends(0, func(st *kinematics.State[T]) T { return st.SineMin })
	sine := s.at(low).SineMin
	cosine := kinematics.Lift[T](0)
	if square := 1 - sine*sine; kinematics.Real(square) > 0 {
		cosine = kinematics.Sqrt(square)
	}
	return degrees(kinematics.Atan2(sine, cosine))
}
