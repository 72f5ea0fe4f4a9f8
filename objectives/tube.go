package objectives

import (
	"math"

	"forkfront/kinematics"
)

// section is a round tube: area, second moment and section modulus, and how each grows with the
// outside diameter when the wall follows the rules.
type section[T kinematics.Scalar] struct {
	area, areaRate       T // mm², mm
	inertia, inertiaRate T // mm⁴, mm³
	modulus, modulusRate T // mm³, mm²
}

// tubeSection is exact, with D the outside and d the inside diameter and t the wall:
//
//	A = π t (D − t), I = π/64 (D⁴ − d⁴) = A (D² + d²) / 16, Z = 2 I / D
func tubeSection[T kinematics.Scalar](r *TubeRules, diameter T) section[T] {
	lift := kinematics.Lift[T]
	wall, grows := lift(r.MinWallMM), lift(0)
	if r.WallShare*kinematics.Real(diameter) > r.MinWallMM {
		grows = lift(r.WallShare)
		wall = grows * diameter
	}
	inside := diameter - 2*wall
	inverse := kinematics.Inverse(diameter)
	var s section[T]
	s.area = math.Pi * wall * (diameter - wall)
	s.areaRate = math.Pi * (grows*(diameter-wall) + wall*(1-grows))
	squares := diameter*diameter + inside*inside
	squaresRate := 2 * (diameter + inside*(1-2*grows))
	s.inertia = s.area * squares * 0.0625
	s.inertiaRate = (s.areaRate*squares + s.area*squaresRate) * 0.0625
	s.modulus = 2 * s.inertia * inverse
	s.modulusRate = (2*s.inertiaRate - s.modulus) * inverse
	return s
}

// demand is what one tube has to carry in one load case.
type demand[T kinematics.Scalar] struct {
	axial    T // size of the force along the tube, N
	bending  T // largest bending moment along it, N·mm
	pressing T // the force where it presses, N; 0 where it pulls
}

// stress is N/A + M/Z in a tube, and its rate with the diameter.
func (d *demand[T]) stress(s *section[T]) (stress, rate T) {
	byArea, byModulus := kinematics.Inverse(s.area), kinematics.Inverse(s.modulus)
	n, m := d.axial*byArea, d.bending*byModulus
	return n + m, -(n*byArea*s.areaRate + m*byModulus*s.modulusRate)
}

// tolerance of diameters in mm: far below what can be told by any measure, and above rounding.
const diameterClosed = 1e-10

// strong is the diameter at which the stress of a demand is what is allowed, in MPa.
func strong(r *TubeRules, d *demand[float64], allowed float64) float64 {
	shape := tubeSection[float64](&TubeRules{WallShare: r.WallShare}, 1)
	at := math.Max(math.Sqrt(d.axial/(allowed*shape.area)), math.Cbrt(d.bending/(allowed*shape.modulus)))
	at = math.Max(math.Min(at, r.MinWallMM/r.WallShare), at*0.5)
	return newton(math.Max(at, 2*r.MinWallMM), func(x float64) (float64, float64) {
		s := tubeSection(r, x)
		stress, rate := d.stress(&s)
		return stress - allowed, rate
	})
}

// stout is the diameter at which a tube pressed between pivots a length apart is about to buckle
// (Euler): π² E I / L² = safety × force. need is the second moment that this asks for.
func stout(r *TubeRules, need float64) float64 {
	shape := tubeSection[float64](&TubeRules{WallShare: r.WallShare}, 1)
	at := math.Sqrt(math.Sqrt(need / shape.inertia))
	if at*r.WallShare > r.MinWallMM {
		return at
	}
	return newton(math.Max(at, 2*r.MinWallMM), func(x float64) (float64, float64) {
		s := tubeSection(r, x)
		return s.inertia - need, s.inertiaRate
	})
}

// newton finds a root from a start where the function is monotone. A step at most doubles or halves.
func newton(at float64, of func(float64) (value, rate float64)) float64 {
	for range 60 {
		value, rate := of(at)
		by := math.Max(-at/2, math.Min(at, -value/rate))
		at += by
		if math.Abs(by) < diameterClosed {
			break
		}
	}
	return at
}
