package objectives

import "forkfront/kinematics"

func antiDiveAtSag[T kinematics.Scalar](s *Subject[T]) T {
	return antiDive(&s.Conditions.Chassis, &s.Sag)
}

func antiDiveMin[T kinematics.Scalar](s *Subject[T]) T {
	at, e := antiDiveAtSag(s), &s.peaks.antiDive
	if e.least < kinematics.Real(at) {
		return antiDive(&s.Conditions.Chassis, s.at(e.low))
	}
	return at
}

func antiDiveMax[T kinematics.Scalar](s *Subject[T]) T {
	at, e := antiDiveAtSag(s), &s.peaks.antiDive
	if e.most > kinematics.Real(at) {
		return antiDive(&s.Conditions.Chassis, s.at(e.high))
	}
	return at
}

// antiDiveError sums trapezia from sag on; the first is shorter than the others.
func antiDiveError(s *Subject[float64]) float64 {
	band, sum := s.Conditions.AntiDive, 0.0
	from, before := s.Conditions.SagMM(), band.off(antiDiveAtSag(s))
	for i := s.pastSag; i < len(s.States); i++ {
		to, now := s.States[i].TravelMM, band.off(s.peaks.antiDives[i])
		sum += (before*before + now*now) * (to - from)
		from, before = to, now
	}
	return root(sum / (2 * (s.Conditions.TravelMM - s.Conditions.SagMM())))
}

// antiDiveErrorSlope takes the derivative of the sum of squares, sample by sample.
func antiDiveErrorSlope(s *Subject[complex128]) complex128 {
	tr, sum := s.trace, 0.0
	if tr.partials.apt {
		sum = tr.along(tr.antiDivePartial()) * step
	} else {
		eachOutside(tr.plain, func(weight float64, _ *kinematics.State[float64], i int) {
			st := &s.Sag
			if i >= 0 {
				st = s.at(i)
			}
			sum += weight * imag(antiDive(&s.Conditions.Chassis, st))
		})
	}
	return meanSlope(antiDiveError(tr.plain), sum/(2*(s.Conditions.TravelMM-s.Conditions.SagMM())))
}

// eachOutside visits the states that have a part in antiDiveError, sag as -1, with the weight of their
// anti-dive's derivative in that of half the sum of squares.
func eachOutside(s *Subject[float64], visit func(weight float64, st *kinematics.State[float64], i int)) {
	band, from := s.Conditions.AntiDive, s.Conditions.SagMM()
	end := len(s.States) - 1
	if off := band.off(antiDiveAtSag(s)); off != 0 && s.pastSag <= end {
		visit(off*(s.States[s.pastSag].TravelMM-from), &s.Sag, -1)
	}
	for i := s.pastSag; i <= end; i++ {
		if off := band.off(s.peaks.antiDives[i]); off != 0 {
			visit(off*(s.States[min(i+1, end)].TravelMM-from), &s.States[i], i)
		}
		from = s.States[i].TravelMM
	}
}

func brakeDive[T kinematics.Scalar](s *Subject[T]) T { return s.dive }

func brakeDiveVersus[T kinematics.Scalar](s *Subject[T]) T {
	return s.dive - kinematics.Lift[T](s.Conditions.Baseline.BrakeDiveMM)
}

func springRate[T kinematics.Scalar](s *Subject[T]) T {
	_, rate := s.spring.force(s.compression(&s.Sag))
	return rate
}

// barOfMPa is how many bar a MPa is.
const barOfMPa = 10

// airPressure is what an air spring is pumped to before it carries anything, in bar above the atmosphere.
func airPressure[T kinematics.Scalar](s *Subject[T]) T {
	return (s.spring.strength - kinematics.Lift[T](AtmosphereMPa)) * barOfMPa
}

// wheelForce is the vertical force at the contact that balances the springs, in N.
func wheelForce[T kinematics.Scalar](s *Subject[T], st *kinematics.State[T]) T {
	force, _ := s.spring.force(s.compression(st))
	return kinematics.Lift[T](float64(s.Shock.Count)) * force * st.ShockRate / st.VZ
}

func bottomOut[T kinematics.Scalar](s *Subject[T]) T { return wheelForce(s, s.full()) }

// wheelRate is the derivative of the wheel force per mm of vertical axle travel: the spring's part
// and the geometric one.
func wheelRate[T kinematics.Scalar](s *Subject[T]) T {
	st, second := &s.Sag, &s.sagSecond
	force, rate := s.spring.force(s.compression(st))
	work := kinematics.Lift[T](float64(s.Shock.Count)) * (rate*st.ShockRate*st.ShockRate + force*second.ShockMM)
	return (work - wheelForce(s, st)*second.VZ) / (st.VZ * st.VZ)
}

func coilError[T kinematics.Scalar](s *Subject[T]) T {
	rate := springRate(s)
	var least T
	for i, coil := range s.Conditions.CoilRates {
		gap := kinematics.Abs(rate - kinematics.Lift[T](coil))
		if i == 0 || kinematics.Real(gap) < kinematics.Real(least) {
			least = gap
		}
	}
	return least
}
