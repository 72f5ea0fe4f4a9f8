package objectives

import "forkfront/kinematics"

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

// leverageError is by the trapezium rule, in which the ends count half.
func leverageError(s *Subject[float64]) float64 {
	band, sum, last := s.Conditions.Leverage, 0.0, len(s.States)-1
	for i := range s.States {
		if rate := s.States[i].ShockRate; rate*band.Low > 1 || rate*band.High < 1 {
			off := band.off(1 / rate)
			sum += off * off
		}
	}
	first, end := band.off(1/s.States[0].ShockRate), band.off(1/s.States[last].ShockRate)
	sum -= (first*first + end*end) / 2
	return root(sum/float64(last)) * band.percent()
}

// leverageErrorSlope takes the derivative of the sum of squares, of which samples within the band have
// no part.
func leverageErrorSlope(s *Subject[complex128]) complex128 {
	plain, last := s.trace.plain, len(s.States)-1
	percent := plain.Conditions.Leverage.percent()
	return meanSlope(leverageError(plain), leverageHalf(s)/float64(last)*percent*percent)
}

// leverageHalf is the derivative of half the sum of squares.
func leverageHalf(s *Subject[complex128]) float64 {
	tr := s.trace
	if tr.partials.apt {
		return tr.along(tr.leveragePartial()) * step
	}
	plain, sum, last := tr.plain, 0.0, len(s.States)-1
	for i := range plain.States {
		off := plain.Conditions.Leverage.off(1 / plain.States[i].ShockRate)
		if i == 0 || i == last {
			off /= 2
		}
		if off != 0 {
			sum += off * imag(leverageAt(s.at(i)))
		}
	}
	return sum
}

// meanSlope is the root of a mean square with its derivative: that of half the mean square, over the
// root. At 0 there is none, and 0 stands for it.
func meanSlope(value, half float64) complex128 {
	if value == 0 {
		return 0
	}
	return complex(value, half/value)
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
