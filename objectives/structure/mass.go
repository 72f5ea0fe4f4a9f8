package structure

import (
	"math"

	"forkfront/kinematics"
	"forkfront/kinematics/plane"
	"forkfront/objectives/ride"
	"forkfront/objectives/scalar"
	"forkfront/objectives/structure/loads"
	"forkfront/objectives/structure/parts"
)

// tubeMass is that of a member's tubes with their joints, in g. A joint at each end weighs as much as a piece of the tube.
func tubeMass[T kinematics.Scalar](z *Sized[T], i int) T {
	t, r := &z.Members[i], &z.Rules.Tubes
	size := parts.TubeSection(r, t.DiameterMM)
	long := z.lengths[i] + t.DiameterMM*kinematics.Lift[T](r.JointDiameters)*z.joints(i)
	return size.Area * long * kinematics.Lift[T](t.Count*z.Material.GramsPerMM3())
}

// Shock masses, common practice without a source: a damper without its spring by its eye-to-eye
// length and its stroke; likewise for an air shock.
const (
	damperG, damperGPerEyeMM, damperGPerStrokeMM = 100, 0.9, 3.5
	airG, airGPerEyeMM, airGPerStrokeMM          = 50, 0.9, 2.0
)

// A coil is weighed by the energy that it stores: round wire twisted to a shear stress τ stores
// τ²/(4 G) per volume (closed form). τ 900 MPa, G 79,000 MPa, and 15 % of dead turns are common
// practice without a source.
const coilGramsPerNMM = 1.15 * parts.SteelGramsPerMM3 * 4 * 79e3 / (900 * 900)

// shockMass is that of all shocks, in g: as given, or else estimated from the size; that of a coil depends on its rate.
func shockMass[T kinematics.Scalar](z *Sized[T]) T {
	k := z.Ride.Shock
	lift := kinematics.Lift[T]
	count := lift(float64(k.Count))
	switch {
	case k.MassG > 0:
		return count * lift(k.MassG)
	case k.Air != nil:
		return count * lift(airG+airGPerEyeMM*k.EyeToEyeMM+airGPerStrokeMM*k.StrokeMM)
	}
	energy := ride.SpringRate(z.Ride) * lift(k.StrokeMM*k.StrokeMM/2)
	return count * (lift(damperG+damperGPerEyeMM*k.EyeToEyeMM+damperGPerStrokeMM*k.StrokeMM) + energy*lift(coilGramsPerNMM))
}

// LinkageMass is the mass of tubes and pivots, in g.
func LinkageMass[T kinematics.Scalar](z *Sized[T]) T {
	var sum T
	for i := range z.Members {
		sum += z.Members[i].MassG
	}
	for i := range z.Pivots {
		sum += z.Pivots[i].MassG
	}
	return sum
}

func Mass[T kinematics.Scalar](z *Sized[T]) T {
	sum := LinkageMass(z) + z.shockG
	for i := range z.Rules.Fixed {
		sum += kinematics.Lift[T](z.Rules.Fixed[i].MassG)
	}
	return sum
}

// UnsprungMass is the mass at the axle that has the kinetic energy of the fork's parts, the wheel left
// out, at the same velocity of the axle at sag, in g. A tube whose ends move at v0 and v1 counts m (v0² + v0·v1 + v1²) / 3.
// A pivot moves with its point; a shock counts as a rod between its eyes.
func UnsprungMass[T kinematics.Scalar](z *Sized[T]) T {
	sd := &z.AtStance[loads.AtSag]
	m := z.Path.Mechanism
	var sum T
	for i, mb := range z.Path.Members {
		if mb.Body != m.Ground() {
			sum += z.Members[i].MassG * meanSquareVelocity(scalar.Velocity(sd.State, mb.Body, sd.Places[mb.From]), scalar.Velocity(sd.State, mb.Body, sd.Places[mb.To]))
		}
	}
	for i := range z.Pivots {
		a, b, point := m.Joint(i)
		if point < 0 {
			sum += z.Pivots[i].MassG * z.bushVelocity(sd, i, a, b)
			continue
		}
		v := scalar.Velocity(sd.State, a, sd.Places[point])
		sum += z.Pivots[i].MassG * v.Dot(v)
	}
	upper, a := m.ShockEnd(0)
	lower, b := m.ShockEnd(1)
	sum += z.shockG * meanSquareVelocity(scalar.Velocity(sd.State, upper, sd.Places[a]), scalar.Velocity(sd.State, lower, sd.Places[b]))
	axle := scalar.Velocity(sd.State, m.Wheel(), sd.Places[z.Path.Hub])
	square := axle.Dot(axle)
	for i := range z.Rules.Fixed {
		if f := &z.Rules.Fixed[i]; f.OnAxle {
			sum += kinematics.Lift[T](f.MassG) * square
		}
	}
	return sum / square
}

// meanSquareVelocity is the mean square of a vector that varies linearly from a to b.
func meanSquareVelocity[T kinematics.Scalar](a, b plane.Vec[T]) T {
	return (a.Dot(a) + a.Dot(b) + b.Dot(b)) * kinematics.Lift[T](1./3)
}

// SteeringInertia is the moment of inertia of the fork's parts about the steering axis at top-out, in kg·cm², the tubes as
// thin rods at their half width. What does not steer is left out.
func SteeringInertia[T kinematics.Scalar](z *Sized[T]) T {
	m, across := z.Path.Mechanism, z.Across
	places := z.AtStance[loads.TopOut].Places
	var sum T
	at := func(mass T, from, to int, halfWidth float64) {
		a, b := plane.Vec[T]{Ahead: places[from].Ahead}, plane.Vec[T]{Ahead: places[to].Ahead}
		sum += mass * (meanSquareVelocity(a, b) + kinematics.Lift[T](halfWidth*halfWidth))
	}
	for i, mb := range z.Path.Members {
		if !m.Steers(mb.Body) {
			continue
		}
		at(z.massAt(&z.AtStance[loads.TopOut], i), mb.From, mb.To, across.HalfWidthMM[mb.Body])
	}
	for i := range z.Pivots {
		_, _, point := m.Joint(i)
		if s := z.Path.SlideOf(i); s != nil {
			if m.Steers(s.Guide) || m.Steers(s.Slider) {
				at(z.Pivots[i].MassG, s.Mouth, s.Through[1], across.HalfWidthMM[s.Guide])
			}
			continue
		}
		a, b := z.ShaftBodies[i][0], z.ShaftBodies[i][1]
		if !m.Steers(a) && !m.Steers(b) {
			continue
		}
		wide := math.Max(across.HalfWidthMM[a], across.HalfWidthMM[b])
		if z.Pivots[i].Shafts == 1 {
			wide /= math.Sqrt(3) // spread from side to side
		}
		at(z.Pivots[i].MassG, point, point, wide)
	}
	above, upper := m.ShockEnd(0)
	below, lower := m.ShockEnd(1)
	if m.Steers(above) || m.Steers(below) {
		at(z.shockG, upper, lower, across.ShockHalf(z.Ride.Shock))
	}
	axle := z.Path.Hub
	for i := range z.Rules.Fixed {
		if f := &z.Rules.Fixed[i]; f.OnAxle {
			at(kinematics.Lift[T](f.MassG), axle, axle, 0)
		}
	}
	return sum * kinematics.Lift[T](1e-5) // g·mm² to kg·cm²
}
