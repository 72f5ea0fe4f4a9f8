package objectives

import "forkfront/kinematics"

func leverageAt[T kinematics.Scalar](st *kinematics.State[T]) T { return 1 / st.ShockRate }

func leverageStart[T kinematics.Scalar](s *Subject[T]) T { return leverageAt(&s.States[0]) }
func leverageEnd[T kinematics.Scalar](s *Subject[T]) T   { return leverageAt(s.full()) }

func (s *Subject[T]) full() *kinematics.State[T] { return &s.States[len(s.States)-1] }

func leverageMin[T kinematics.Scalar](s *Subject[T]) T {
	rate := s.States[0].ShockRate
	for i := range s.States {
		rate = higher(rate, s.States[i].ShockRate)
	}
	return 1 / rate
}

func leverageMax[T kinematics.Scalar](s *Subject[T]) T {
	rate := s.States[0].ShockRate
	for i := range s.States {
		rate = lower(rate, s.States[i].ShockRate)
	}
	return 1 / rate
}

func progression[T kinematics.Scalar](s *Subject[T]) T {
	return 100 * (1 - leverageEnd(s)/leverageStart(s))
}

func leverageError[T kinematics.Scalar](s *Subject[T]) T {
	band := s.Conditions.Leverage
	var sum T
	for i := 1; i < len(s.States); i++ {
		a, b := outside(leverageAt(&s.States[i-1]), band), outside(leverageAt(&s.States[i]), band)
		sum += a*a + b*b
	}
	mean := sum / kinematics.Lift[T](float64(2*(len(s.States)-1)))
	return root(mean) * kinematics.Lift[T](200/(band.Low+band.High))
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
