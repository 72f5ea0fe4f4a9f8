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
	plain, band := s.trace.plain, s.Conditions.AntiDive
	from, sum := s.Conditions.SagMM(), 0.0
	part := func(off, to float64, at *kinematics.State[complex128]) {
		sum += off * (to - from) * imag(antiDive(&s.Conditions.Chassis, at))
	}
	if off := band.off(antiDiveAtSag(plain)); off != 0 && s.pastSag < len(plain.States) {
		part(off, plain.States[s.pastSag].TravelMM, &s.Sag)
	}
	for i := s.pastSag; i < len(plain.States); i++ {
		to := plain.States[min(i+1, len(plain.States)-1)].TravelMM
		if off := band.off(plain.peaks.antiDives[i]); off != 0 {
			part(off, to, s.at(i))
		}
		from = plain.States[i].TravelMM
	}
	return meanSlope(antiDiveError(plain), sum/(2*(s.Conditions.TravelMM-s.Conditions.SagMM())))
}

func brakeDive[T kinematics.Scalar](s *Subject[T]) T { return s.dive }

func brakeDiveVersus[T kinematics.Scalar](s *Subject[T]) T {
	return s.dive - kinematics.Lift[T](s.Conditions.Baseline.BrakeDiveMM)
}

func springRate[T kinematics.Scalar](s *Subject[T]) T {
	_, rate := s.spring.force(s.compression(&s.Sag))
	return rate
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
