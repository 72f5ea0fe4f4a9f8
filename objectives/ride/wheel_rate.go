package ride

import (
	"forkfront/kinematics"
	"forkfront/kinematics/stance"
)

// WheelForce is the vertical force at the contact point that balances the springs, in N, by virtual work.
func WheelForce[T kinematics.Scalar](s *Ride[T], st *stance.State[T]) T {
	force, _ := s.spring.force(s.Compression(st))
	return kinematics.Lift[T](float64(s.Shock.Count)) * force * st.ShockRate / st.VZ
}

// WheelRate is the derivative of the wheel force with vertical axle travel at sag, in N/mm: the sum of the term of
// the spring rate and the geometric one, of the changing leverage.
func WheelRate[T kinematics.Scalar](s *Ride[T]) T {
	return s.wheelRate(&s.Sag, s.sagSecond.ShockMM, s.sagSecond.VZ)
}

// wheelRate is that at a state, by the derivatives of its shock rate and of its upward velocity with travel:
// d/dt (n F ρ / v) / v.
func (s *Ride[T]) wheelRate(st *stance.State[T], shockBend, rise T) T {
	force, rate := s.spring.force(s.Compression(st))
	work := rate*st.ShockRate*st.ShockRate + force*shockBend
	return kinematics.Lift[T](float64(s.Shock.Count)) * (work*st.VZ - force*st.ShockRate*rise) / (st.VZ * st.VZ * st.VZ)
}

// PastSag is the first sample beyond sag; the number of samples where there is none.
func (s *Ride[T]) PastSag() int { return s.pastSag }

// WheelRateAt is the wheel rate at a sample other than that of top-out, of at least three, in N/mm. It does not solve the
// motion again: second derivatives come from the values and first derivatives at three neighbouring samples.
func WheelRateAt[T kinematics.Scalar](s *Ride[T], sample int) T {
	last := len(s.States) - 1
	perStep := kinematics.Lift[T](float64(last) / s.Setting.TravelMM)
	st, before := s.At(sample), s.At(sample-1)
	var shockBend, aheadBend T
	if sample < last {
		after := s.At(sample + 1)
		shockBend = -bend(before.ShockMM, st.ShockMM, after.ShockMM, -before.ShockRate, -after.ShockRate, perStep)
		aheadBend = bend(before.Ahead, st.Ahead, after.Ahead, before.AheadRate, after.AheadRate, perStep)
	} else {
		first := s.At(sample - 2)
		shockBend = -bendAtEnd(first.ShockMM, before.ShockMM, st.ShockMM, -first.ShockRate, -before.ShockRate, -st.ShockRate, perStep)
		aheadBend = bendAtEnd(first.Ahead, before.Ahead, st.Ahead, first.AheadRate, before.AheadRate, st.AheadRate, perStep)
	}
	rise := st.CosHead * aheadBend
	if !s.Setting.Chassis.Level {
		rise += (st.CosHead - st.AheadRate*st.SinHead) * st.VZ / st.WheelbaseMM // the head angle turns with the pitch
	}
	return s.wheelRate(st, shockBend, rise)
}

// bend is the second derivative at the second of three samples: that of the polynomial of the fifth degree with the values f
// and the slopes g, whose error is of the fourth order of the step.
func bend[T kinematics.Scalar](f0, f1, f2, g0, g2, perStep T) T {
	return (2*(f2-f1-(f1-f0))*perStep - kinematics.Lift[T](0.5)*(g2-g0)) * perStep
}

// bendAtEnd is the same at the third of three samples.
func bendAtEnd[T kinematics.Scalar](f0, f1, f2, g0, g1, g2, perStep T) T {
	return ((8*(f1-f2)-kinematics.Lift[T](3.5)*(f2-f0))*perStep + 6*g2 + 8*g1 + g0) * perStep
}
