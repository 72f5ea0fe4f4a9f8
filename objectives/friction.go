package objectives

import (
	"math"

	"forkfront/kinematics"
)

// restAtSag works out the pin forces at sag, at rest and in a hard stop with the job's deceleration, once.
func (z *Sized[T]) restAtSag(s *Subject[T]) {
	if z.rested {
		return
	}
	z.rested = true
	c := s.Conditions
	sd := &z.stands[AtSag]
	for i, backward := range [2]float64{0, c.Chassis.FrontBrakeShare * c.BrakingN()} {
		up := c.StaticLoadN()
		if i == 1 {
			up += c.TransferN()
		}
		a := braked(c, sd.state, backward, up)
		z.statics.solve(sd, &a)
		for j := range z.calm[i] {
			force := z.statics.pins[j].Force
			z.calm[i][j] = combined(force.Along, force.Ahead)
		}
	}
}

// friction is the force along the travel at the axle that resists motion at sag, in N, by the power
// lost per mm of travel: each pivot μ P d/2 and its seals, and the shock.
func friction[T kinematics.Scalar](s *Subject[T], which int) T {
	sum := kinematics.Abs(s.Sag.ShockRate) * kinematics.Lift[T](float64(s.Shock.Count)*s.Conditions.Structure.ShockNewton)
	for i := range s.Sized.Pivots {
		sum += pivotFriction(s, which, i)
	}
	return sum
}

func pivotFriction[T kinematics.Scalar](s *Subject[T], which, joint int) T {
	s.Sized.restAtSag(s)
	r, p := &s.Conditions.Structure.Pivots, &s.Sized.Pivots[joint]
	a, b, _ := s.Sized.path.m.Joint(joint)
	turn := kinematics.Abs(s.Sag.Rate[a].Turn - s.Sag.Rate[b].Turn)
	factor, seals := r.PlainFriction, 0.0
	if p.Rolling {
		factor, seals = r.RollingFriction, 2*r.SealNMM
	}
	return turn * (s.Sized.calm[which][joint]*p.ShaftMM*kinematics.Lift[T](factor/2) + kinematics.Lift[T](seals))
}

func frictionStatic[T kinematics.Scalar](s *Subject[T]) T  { return friction(s, 0) }
func frictionBraking[T kinematics.Scalar](s *Subject[T]) T { return friction(s, 1) }

// telescopicFriction is that of the telescopic baseline at sag, in N: its sliding legs with the
// locked wheel are one free body under the contact force, backward and up, and the spring along the
// legs. Two bushes hold it; the lower one sits at the end of the crown's tubes, so their distance
// grows with travel. Friction times the sum of both forces resists (common practice, no source).
func telescopicFriction(c *Conditions, r *Replaced, st *kinematics.State[float64], backward, up float64) float64 {
	force := inFork(st, -backward, up)
	radius := c.Chassis.FrontRadiusMM
	contact := vec[float64]{Along: radius * st.SinHead, Ahead: -radius * st.CosHead} // from the axle
	lowers := r.LowersMM
	if lowers == 0 {
		lowers = c.Chassis.AxleToCrownMM - c.TravelMM - 30
	}
	upper := -lowers // of the axle, along
	lower := upper + r.BushOverlapMM + st.TravelMM
	// Moments about the upper bush; bush forces act ahead: (lower − upper) P = −(moment of the rest).
	moment := cross(less(contact, vec[float64]{Along: upper}), force)
	atLower := -moment / (lower - upper)
	atUpper := -force.Ahead - atLower
	return r.BushFriction * (math.Abs(atLower) + math.Abs(atUpper))
}
