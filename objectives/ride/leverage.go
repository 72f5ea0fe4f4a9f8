package ride

import (
	"forkfront/kinematics"
	"forkfront/kinematics/stance"
	"forkfront/objectives/scalar"
)

// LeverageAt is the leverage ratio at a state: travel per compression of the shock.
func LeverageAt[T kinematics.Scalar](st *stance.State[T]) T { return 1 / st.ShockRate }

// LeverageStart is the leverage ratio at top-out.
func LeverageStart[T kinematics.Scalar](s *Ride[T]) T { return LeverageAt(s.At(0)) }

// LeverageEnd is the leverage ratio at full travel.
func LeverageEnd[T kinematics.Scalar](s *Ride[T]) T { return LeverageAt(s.Full()) }

// Full is the state at full travel.
func (s *Ride[T]) Full() *stance.State[T] { return s.At(len(s.States) - 1) }

// LeverageMin is the smallest leverage ratio over the travel.
func LeverageMin[T kinematics.Scalar](s *Ride[T]) T {
	return LeverageAt(s.At(s.extremes.shockRate.high))
}

// LeverageMax is the largest leverage ratio over the travel.
func LeverageMax[T kinematics.Scalar](s *Ride[T]) T {
	return LeverageAt(s.At(s.extremes.shockRate.low))
}

// Progression is by how much the leverage ratio falls from top-out to full travel, in % of that at top-out.
func Progression[T kinematics.Scalar](s *Ride[T]) T {
	return 100 * (1 - LeverageEnd(s)/LeverageStart(s))
}

// LeverageBandError is the RMS distance of the leverage ratio outside its band over the travel, in % of the band's
// middle, by the trapezium rule, in which the end samples have half weight.
func LeverageBandError(s *Ride[float64]) float64 {
	band, sum, last := s.Setting.Leverage, 0.0, len(s.States)-1
	for i := range s.States {
		if rate := s.States[i].ShockRate; rate*band.Low > 1 || rate*band.High < 1 {
			off := band.deviation(1 / rate)
			sum += off * off
		}
	}
	first, end := band.deviation(1/s.States[0].ShockRate), band.deviation(1/s.States[last].ShockRate)
	sum -= (first*first + end*end) / 2
	return scalar.Root(sum/float64(last)) * band.percent()
}

// LeverageBandErrorSlope is LeverageBandError with its derivative, which is taken of the sum of squares: samples
// within the band contribute nothing.
func LeverageBandErrorSlope(s *Ride[complex128]) complex128 {
	plain, last := s.derivative.(*Derivative).plain, len(s.States)-1
	percent := plain.Setting.Leverage.percent()
	return rmsSlope(LeverageBandError(plain), leverageHalf(s)/float64(last)*percent*percent)
}

// leverageHalf is the derivative of half the sum of squares.
func leverageHalf(s *Ride[complex128]) float64 {
	tr := s.derivative.(*Derivative)
	if tr.byAdjoint {
		return tr.along(tr.leveragePartial()) * scalar.Step
	}
	plain, sum, last := tr.plain, 0.0, len(s.States)-1
	for i := range plain.States {
		off := plain.Setting.Leverage.deviation(1 / plain.States[i].ShockRate)
		if i == 0 || i == last {
			off /= 2
		}
		if off != 0 {
			sum += off * imag(LeverageAt(s.At(i)))
		}
	}
	return sum
}

// rmsSlope is a root mean square with its derivative, from the derivative of half the mean square. At 0 it is not
// differentiable, and the derivative is set to 0.
func rmsSlope(value, half float64) complex128 {
	if value == 0 {
		return 0
	}
	return complex(value, half/value)
}

// StrokeUsed is the compression of the shock at full travel, in mm.
func StrokeUsed[T kinematics.Scalar](s *Ride[T]) T { return s.Compression(s.Full()) }

// StrokeUsedPct is the compression of the shock at full travel, in % of its stroke.
func StrokeUsedPct[T kinematics.Scalar](s *Ride[T]) T {
	return StrokeUsed(s) * kinematics.Lift[T](100/s.Shock.StrokeMM)
}

// StrokeLeft is the stroke of the shock minus its compression at full travel, in mm.
func StrokeLeft[T kinematics.Scalar](s *Ride[T]) T {
	return kinematics.Lift[T](s.Shock.StrokeMM) - StrokeUsed(s)
}
