package ride

import (
	"forkfront/kinematics"
	"forkfront/kinematics/stance"
	"forkfront/objectives/fork"
	"forkfront/objectives/scalar"
)

// AntiDiveAtSag is the anti-dive at sag, in %.
func AntiDiveAtSag[T kinematics.Scalar](s *Ride[T]) T {
	return AntiDive(&s.Setting.Chassis, &s.Sag)
}

// AntiDiveMin is the smallest anti-dive from sag to full travel, in %.
func AntiDiveMin[T kinematics.Scalar](s *Ride[T]) T {
	at, e := AntiDiveAtSag(s), &s.extremes.antiDive
	if e.least < kinematics.Real(at) {
		return AntiDive(&s.Setting.Chassis, s.At(e.low))
	}
	return at
}

// AntiDiveMax is the largest anti-dive from sag to full travel, in %.
func AntiDiveMax[T kinematics.Scalar](s *Ride[T]) T {
	at, e := AntiDiveAtSag(s), &s.extremes.antiDive
	if e.most > kinematics.Real(at) {
		return AntiDive(&s.Setting.Chassis, s.At(e.high))
	}
	return at
}

// AntiDiveBandError is the RMS distance of anti-dive outside its band from sag to full travel, in percentage points,
// by the trapezium rule; the first interval, from sag to the next sample, is shorter than the others.
func AntiDiveBandError(s *Ride[float64]) float64 {
	band, sum := s.Setting.AntiDive, 0.0
	from, before := s.Setting.SagMM(), band.deviation(AntiDiveAtSag(s))
	for i := s.pastSag; i < len(s.States); i++ {
		to, now := s.States[i].TravelMM, band.deviation(s.extremes.antiDives[i])
		sum += (before*before + now*now) * (to - from)
		from, before = to, now
	}
	return scalar.Root(sum / (2 * (s.Setting.TravelMM - s.Setting.SagMM())))
}

// AntiDiveBandErrorSlope is AntiDiveBandError with its derivative, which is taken of the sum of squares.
func AntiDiveBandErrorSlope(s *Ride[complex128]) complex128 {
	tr, sum := s.derivative.(*Derivative), 0.0
	if tr.byAdjoint {
		sum = tr.along(tr.antiDivePartial()) * scalar.Step
	} else {
		eachOutside(tr.plain, func(weight float64, _ *stance.State[float64], i int) {
			st := &s.Sag
			if i >= 0 {
				st = s.At(i)
			}
			sum += weight * imag(AntiDive(&s.Setting.Chassis, st))
		})
	}
	return rmsSlope(AntiDiveBandError(tr.plain), sum/(2*(s.Setting.TravelMM-s.Setting.SagMM())))
}

// eachOutside visits the states that contribute to AntiDiveBandError, sag as -1, with the weight of their anti-dive's
// derivative in the derivative of half the sum of squares.
func eachOutside(s *Ride[float64], visit func(weight float64, st *stance.State[float64], i int)) {
	band, from := s.Setting.AntiDive, s.Setting.SagMM()
	end := len(s.States) - 1
	if off := band.deviation(AntiDiveAtSag(s)); off != 0 && s.pastSag <= end {
		visit(off*(s.States[s.pastSag].TravelMM-from), &s.Sag, -1)
	}
	for i := s.pastSag; i <= end; i++ {
		if off := band.deviation(s.extremes.antiDives[i]); off != 0 {
			visit(off*(s.States[min(i+1, end)].TravelMM-from), &s.States[i], i)
		}
		from = s.States[i].TravelMM
	}
}

// BrakeDive is the travel in mm from sag to rest in a hard stop; negative where the fork rises.
func BrakeDive[T kinematics.Scalar](s *Ride[T]) T { return s.dive }

// BrakeDiveVersusTelescopic is BrakeDive minus that of the telescopic baseline, in mm.
func BrakeDiveVersusTelescopic[T kinematics.Scalar](s *Ride[T]) T {
	return s.dive - kinematics.Lift[T](s.baseline.BrakeDiveMM)
}

// SpringRate is the rate of one shock's spring at sag, in N/mm.
func SpringRate[T kinematics.Scalar](s *Ride[T]) T {
	_, rate := s.spring.force(s.Compression(&s.Sag))
	return rate
}

// barOfMPa is how many bar a MPa is.
const barOfMPa = 10

// AirPressure is the pressure of an air spring at top-out, in bar above the atmosphere.
func AirPressure[T kinematics.Scalar](s *Ride[T]) T {
	return (s.spring.strength - kinematics.Lift[T](fork.AtmosphereMPa)) * barOfMPa
}

// BottomOutForce is the wheel force at full travel, in N.
func BottomOutForce[T kinematics.Scalar](s *Ride[T]) T { return WheelForce(s, s.Full()) }

// CoilStepError is the distance in N/mm from the spring rate to the nearest coil on sale.
func CoilStepError[T kinematics.Scalar](s *Ride[T]) T {
	rate := SpringRate(s)
	var least T
	for i, coil := range s.Setting.CoilRates {
		gap := kinematics.Abs(rate - kinematics.Lift[T](coil))
		if i == 0 || kinematics.Real(gap) < kinematics.Real(least) {
			least = gap
		}
	}
	return least
}
