package objectives

import (
	"math"

	"forkfront/kinematics"
)

// tubeMass is that of a member's tubes, in g.
func tubeMass[T kinematics.Scalar](s *Subject[T], i int) T {
	t := &s.Sized.Members[i]
	size := tubeSection(&s.Conditions.Structure.Tubes, t.DiameterMM)
	return size.area * s.Sized.lengths[i] * kinematics.Lift[T](t.Count*s.design.Material.gramsPerMM3())
}

// Shock masses, common practice without a source: a damper without its spring by its eye-to-eye
// length and its stroke; an air shock alike.
const (
	damperG, damperGPerEyeMM, damperGPerStrokeMM = 100, 0.9, 3.5
	airG, airGPerEyeMM, airGPerStrokeMM          = 50, 0.9, 2.0
)

// A coil is weighed by the energy that it stores: round wire twisted to a shear stress τ stores
// τ²/(4 G) per volume (closed form). τ 900 MPa, G 79,000 MPa, and 15 % of dead turns are common
// practice without a source.
const coilGramsPerNMM = 1.15 * steelGramsPerMM3 * 4 * 79e3 / (900 * 900)

// shockMass is that of all shocks, in g: as given, else by size; the coil's goes by its rate.
func shockMass[T kinematics.Scalar](s *Subject[T]) T {
	k := s.Shock
	lift := kinematics.Lift[T]
	count := lift(float64(k.Count))
	switch {
	case k.MassG > 0:
		return count * lift(k.MassG)
	case k.Air != nil:
		return count * lift(airG+airGPerEyeMM*k.EyeToEyeMM+airGPerStrokeMM*k.StrokeMM)
	}
	energy := springRate(s) * lift(k.StrokeMM*k.StrokeMM/2)
	return count * (lift(damperG+damperGPerEyeMM*k.EyeToEyeMM+damperGPerStrokeMM*k.StrokeMM) + energy*lift(coilGramsPerNMM))
}

// linkageMass is tubes and pivots.
func linkageMass[T kinematics.Scalar](s *Subject[T]) T {
	var sum T
	for i := range s.Sized.Members {
		sum += s.Sized.Members[i].MassG
	}
	for i := range s.Sized.Pivots {
		sum += s.Sized.Pivots[i].MassG
	}
	return sum
}

func mass[T kinematics.Scalar](s *Subject[T]) T {
	sum := linkageMass(s) + s.Sized.shockG
	for i := range s.Conditions.Structure.Fixed {
		sum += kinematics.Lift[T](s.Conditions.Structure.Fixed[i].MassG)
	}
	return sum
}

// velocity of a place on a body, per mm of travel.
func velocity[T kinematics.Scalar](st *kinematics.State[T], body int, at vec[T]) vec[T] {
	arm, turn := less(at, st.Pose[body].At), st.Rate[body].Turn
	return vec[T]{Along: st.Rate[body].At.Along - arm.Ahead*turn, Ahead: st.Rate[body].At.Ahead + arm.Along*turn}
}

// unsprung is the mass at the axle that has the kinetic energy of the fork's parts, the wheel left
// out, per velocity of the axle at sag. A tube's ends at v0 and v1: m (v0² + v0·v1 + v1²) / 3. A pivot
// goes with its point; a shock counts as a rod between its eyes.
func unsprung[T kinematics.Scalar](s *Subject[T]) T {
	z := &s.Sized
	sd := &z.stands[AtSag]
	m := z.path.m
	var sum T
	for i, mb := range z.path.members {
		if mb.Body != m.Ground() {
			sum += s.Sized.Members[i].MassG * rod(velocity(sd.state, mb.Body, sd.places[mb.From]), velocity(sd.state, mb.Body, sd.places[mb.To]))
		}
	}
	for i := range z.Pivots {
		a, _, point := m.Joint(i)
		v := velocity(sd.state, a, sd.places[point])
		sum += z.Pivots[i].MassG * dot(v, v)
	}
	upper, a := m.ShockEnd(0)
	lower, b := m.ShockEnd(1)
	sum += s.Sized.shockG * rod(velocity(sd.state, upper, sd.places[a]), velocity(sd.state, lower, sd.places[b]))
	axle := velocity(sd.state, m.Wheel(), sd.places[m.Point(kinematics.PointAxle)])
	square := dot(axle, axle)
	for i := range s.Conditions.Structure.Fixed {
		if f := &s.Conditions.Structure.Fixed[i]; f.OnAxle {
			sum += kinematics.Lift[T](f.MassG) * square
		}
	}
	return sum / square
}

// rod is the mean of a square that goes linearly from a to b.
func rod[T kinematics.Scalar](a, b vec[T]) T {
	return (dot(a, a) + dot(a, b) + dot(b, b)) * kinematics.Lift[T](1./3)
}

// steeringInertia is of the fork's parts about the steering axis at top-out, in kg·cm², the tubes as
// thin rods at their half width. What does not steer is left out.
func steeringInertia[T kinematics.Scalar](s *Subject[T]) T {
	z := &s.Sized
	m, across := z.path.m, s.design.Across
	places := z.stands[TopOut].places
	var sum T
	at := func(mass T, from, to int, halfWidth float64) {
		a, b := vec[T]{Ahead: places[from].Ahead}, vec[T]{Ahead: places[to].Ahead}
		sum += mass * (rod(a, b) + kinematics.Lift[T](halfWidth*halfWidth))
	}
	for i, mb := range z.path.members {
		if !m.Steers(mb.Body) {
			continue
		}
		at(s.Sized.Members[i].MassG, mb.From, mb.To, across.HalfWidthMM[mb.Body])
	}
	for i := range z.Pivots {
		a, b, point := m.Joint(i)
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
		at(s.Sized.shockG, upper, lower, across.shockHalf(s.Shock))
	}
	axle := m.Point(kinematics.PointAxle)
	for i := range s.Conditions.Structure.Fixed {
		if f := &s.Conditions.Structure.Fixed[i]; f.OnAxle {
			at(kinematics.Lift[T](f.MassG), axle, axle, 0)
		}
	}
	return sum * kinematics.Lift[T](1e-5) // g·mm² to kg·cm²
}
