package objectives

import (
	"math"

	"forkfront/kinematics"
)

func leverageAt[T kinematics.Scalar](st *kinematics.State[T]) T { return 1 / st.ShockRate }

func leverageStart[T kinematics.Scalar](s *Subject[T]) T { return leverageAt(s.at(0)) }
func leverageEnd[T kinematics.Scalar](s *Subject[T]) T   { return leverageAt(s.full()) }

func (s *Subject[T]) full() *kinematics.State[T] { return s.at(len(s.States) - 1) }

func leverageMin[T kinematics.Scalar](s *Subject[T]) T {
	return leverageAt(s.at(s.peaks.shockRate.high))
}

func leverageMax[T kinematics.Scalar](s *Subject[T]) T {
	return leverageAt(s.at(s.peaks.shockRate.low))
}

func progression[T kinematics.Scalar](s *Subject[T]) T {
	return 100 * (1 - leverageEnd(s)/leverageStart(s))
}

func leverageError[T kinematics.Scalar](s *Subject[T]) T {
	band := s.Conditions.Leverage
	var sum T
	last := len(s.States) - 1
	for i := range s.States {
		if band.holds(1 / kinematics.Real(s.States[i].ShockRate)) {
			continue
		}
		off := outside(leverageAt(s.at(i)), band)
		if i == 0 || i == last {
			off *= math.Sqrt2 / 2 // the ends count half
		}
		sum += off * off
	}
	return root(sum/kinematics.Lift[T](float64(last))) * kinematics.Lift[T](200/(band.Low+band.High))
}

// outside is how far x lies outside a band, negative below it.
func outside[T kinematics.Scalar](x T, band Band) T {
	switch {
	case kinematics.Real(x) < band.Low:
		return x - kinematics.Lift[T](band.Low)
	case kinematics.Real(x) > band.High:
		return x - kinematics.Lift[T](band.High)
	}
	return 0
}

// root of a mean square, zero where it is.
func root[T kinematics.Scalar](x T) T {
	if kinematics.Real(x) <= 0 {
		return 0
	}
	return kinematics.Sqrt(x)
}

func strokeUsed[T kinematics.Scalar](s *Subject[T]) T { return s.compression(s.full()) }

func strokeUsedPct[T kinematics.Scalar](s *Subject[T]) T {
	return strokeUsed(s) * kinematics.Lift[T](100/s.Shock.StrokeMM)
}

func strokeLeft[T kinematics.Scalar](s *Subject[T]) T {
	return kinematics.Lift[T](s.Shock.StrokeMM) - strokeUsed(s)
}
