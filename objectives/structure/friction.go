package structure

import (
	"math"

	"forkfront/kinematics"
	"forkfront/kinematics/plane"
	"forkfront/kinematics/stance"
	"forkfront/objectives/ride"
	"forkfront/objectives/scalar"
	"forkfront/objectives/structure/loads"
)

// restAtSag works out the pin forces at sag, at rest and in a hard stop with the job's deceleration, once.
func (z *Sized[T]) restAtSag() {
	if z.sagKnown {
		return
	}
	z.sagKnown = true
	c := z.Ride.Setting
	sd := &z.AtStance[loads.AtSag]
	for i, backward := range [2]float64{0, c.Chassis.FrontBrakeShare * c.BrakingN()} {
		up := c.StaticLoadN()
		if i == 1 {
			up += c.TransferN()
		}
		a := loads.Braked(c, sd.State, backward, up)
		z.statics.Solve(sd, &a)
		z.statics.OnTurningBodies(z.ShaftBodies)
		for j := range z.pinForcesAtSag[i] {
			force := z.statics.Pins[j].Force
			z.pinForcesAtSag[i][j] = scalar.Hypot(force.Along, force.Ahead)
		}
		for k := range z.Path.Slides {
			z.pinForcesAtSag[i][z.Path.Slides[k].Joint] = z.statics.Bushes[k].Sum()
		}
	}
}

// friction is the force along the travel at the axle that resists motion at sag, in N, by the power
// lost per mm of travel: each pivot μ P d/2 and its seals, each slide μ times the sum of the forces of its bushes, and the shock.
func friction[T kinematics.Scalar](z *Sized[T], which int) T {
	sum := kinematics.Abs(z.Ride.Sag.ShockRate) * kinematics.Lift[T](float64(z.Ride.Shock.Count)*z.Rules.ShockNewton)
	for i := range z.Pivots {
		sum += pivotFriction(z, which, i)
	}
	return sum
}

func pivotFriction[T kinematics.Scalar](z *Sized[T], which, joint int) T {
	z.restAtSag()
	if s := z.Path.SlideOf(joint); s != nil {
		return z.slideFriction(&z.AtStance[loads.AtSag], s, z.pinForcesAtSag[which][joint])
	}
	r, p := &z.Rules.Pivots, &z.Pivots[joint]
	a, b := z.ShaftBodies[joint][0], z.ShaftBodies[joint][1]
	turn := kinematics.Abs(z.Ride.Sag.Rate[a].Turn - z.Ride.Sag.Rate[b].Turn)
	factor, seals := r.PlainFriction, 0.0
	if p.Rolling {
		factor, seals = r.RollingFriction, 2*r.SealNMM
	}
	return turn * (z.pinForcesAtSag[which][joint]*p.ShaftMM*kinematics.Lift[T](factor/2) + kinematics.Lift[T](seals))
}

func FrictionStatic[T kinematics.Scalar](z *Sized[T]) T  { return friction(z, 0) }
func FrictionBraking[T kinematics.Scalar](z *Sized[T]) T { return friction(z, 1) }

// telescopicFriction is that of the telescopic baseline at sag, in N: its sliding legs with the
// locked wheel are one free body under the contact force, backward and up, and the spring along the
// legs. Two bushes hold it; the lower one sits at the end of the crown's tubes, so their distance
// grows with travel. Friction times the sum of both forces resists (common practice, no source).
func telescopicFriction(c *ride.Setting, r *Replaced, st *stance.State[float64], backward, up float64) float64 {
	force := loads.InFork(st, -backward, up)
	radius := c.Chassis.FrontRadiusMM
	contact := plane.Vec[float64]{Along: radius * st.SinHead, Ahead: -radius * st.CosHead} // from the axle
	upper := -r.Lowers(c)                                                                  // of the axle, along
	lower := upper + r.BushOverlapMM + st.TravelMM
	// Moments about the upper bush; bush forces act ahead: (lower − upper) P = −(moment of the rest).
	moment := contact.Minus(plane.Vec[float64]{Along: upper}).Cross(force)
	atLower := -moment / (lower - upper)
	atUpper := -force.Ahead - atLower
	return r.BushFriction * (math.Abs(atLower) + math.Abs(atUpper))
}
