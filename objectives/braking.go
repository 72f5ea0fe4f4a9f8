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
func antiDiveError[T kinematics.Scalar](s *Subject[T]) T {
	band := s.Conditions.AntiDive
	var sum T
	before := outside(antiDiveAtSag(s), band)
	from := s.Conditions.SagMM()
	for i := s.pastSag; i < len(s.States); i++ {
		var now T
		if !band.holds(s.peaks.antiDives[i]) {
			now = outside(antiDive(&s.Conditions.Chassis, s.at(i)), band)
		}
		to := kinematics.Real(s.States[i].TravelMM)
		sum += (before*before + now*now) * kinematics.Lift[T]((to-from)/2)
		before, from = now, to
	}
	return root(sum / kinematics.Lift[T](s.Conditions.TravelMM-s.Conditions.SagMM()))
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
