package ride

import (
	"forkfront/kinematics"
	"forkfront/objectives/scalar"
)

func LeverageAt[T kinematics.Scalar](st *kinematics.State[T]) T { return 1 / st.ShockRate }

func LeverageStart[T kinematics.Scalar](s *Ride[T]) T { return LeverageAt(s.At(0)) }
func LeverageEnd[T kinematics.Scalar](s *Ride[T]) T   { return LeverageAt(s.Full()) }

// Full is the state at full travel.
func (s *Ride[T]) Full() *kinematics.State[T] { return s.At(len(s.States) - 1) }

func LeverageMin[T kinematics.Scalar](s *Ride[T]) T {
	return LeverageAt(s.At(s.peaks.shockRate.high))
}

func LeverageMax[T kinematics.Scalar](s *Ride[T]) T {
	return LeverageAt(s.At(s.peaks.shockRate.low))
}

func Progression[T kinematics.Scalar](s *Ride[T]) T {
	return 100 * (1 - LeverageEnd(s)/LeverageStart(s))
}

// LeverageBandError is by the trapezium rule, in which the ends count half.
func LeverageBandError(s *Ride[float64]) float64 {
	band, sum, last := s.Setting.Leverage, 0.0, len(s.States)-1
	for i := range s.States {
		if rate := s.States[i].ShockRate; rate*band.Low > 1 || rate*band.High < 1 {
			off := band.off(1 / rate)
			sum += off * off
		}
	}
	first, end := band.off(1/s.States[0].ShockRate), band.off(1/s.States[last].ShockRate)
	sum -= (first*first + end*end) / 2
	return scalar.Root(sum/float64(last)) * band.percent()
}

// LeverageBandErrorSlope takes the derivative of the sum of squares, of which samples within the band have
// no part.
func LeverageBandErrorSlope(s *Ride[complex128]) complex128 {
	plain, last := s.derivative.plain, len(s.States)-1
	percent := plain.Setting.Leverage.percent()
	return meanSlope(LeverageBandError(plain), leverageHalf(s)/float64(last)*percent*percent)
}

// leverageHalf is the derivative of half the sum of squares.
func leverageHalf(s *Ride[complex128]) float64 {
	tr := s.derivative
	if tr.apt {
		return tr.along(tr.leveragePartial()) * scalar.Step
	}
	plain, sum, last := tr.plain, 0.0, len(s.States)-1
	for i := range plain.States {
		off := plain.Setting.Leverage.off(1 / plain.States[i].ShockRate)
		if i == 0 || i == last {
			off /= 2
		}
		if off != 0 {
			sum += off * imag(LeverageAt(s.At(i)))
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

func StrokeUsed[T kinematics.Scalar](s *Ride[T]) T { return s.Compression(s.Full()) }

func StrokeUsedPct[T kinematics.Scalar](s *Ride[T]) T {
	return StrokeUsed(s) * kinematics.Lift[T](100/s.Shock.StrokeMM)
}

func StrokeLeft[T kinematics.Scalar](s *Ride[T]) T {
	return kinematics.Lift[T](s.Shock.StrokeMM) - StrokeUsed(s)
}
