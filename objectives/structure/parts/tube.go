package parts

import (
	"math"

	"forkfront/kinematics"
	"forkfront/objectives/fork"
)

// TubeRules limit the round tubes that members are made of.
type TubeRules struct {
	WallShare     float64 // wall as a part of the outside diameter
	MinWallMM     float64
	MinDiameterMM float64
	MaxDiameterMM float64
	Safety        float64 // on the yield strength and on buckling

	JointDiameters float64 // what the joint at each end of a tube weighs, as a length of that tube in diameters
}

// DefaultTubeRules are common practice without a source.
func DefaultTubeRules() TubeRules {
	return TubeRules{WallShare: 0.08, MinWallMM: 1.2, MinDiameterMM: 16, MaxDiameterMM: 50, Safety: 1.5, JointDiameters: 0.5}
}

// Section is a round tube: area, second moment and section modulus, and their derivatives with the outside diameter when
// the wall follows the rules.
type Section[T kinematics.Scalar] struct {
	Area, AreaRate       T // mm², mm
	Inertia, InertiaRate T // mm⁴, mm³
	Modulus, modulusRate T // mm³, mm²
}

// TubeSection is the section of a tube of an outside diameter in mm. With d the inside diameter and t the wall:
//
//	A = π t (D − t), I = π/64 (D⁴ − d⁴) = A (D² + d²) / 16, Z = 2 I / D
//
// Where the wall is a share of the diameter, A is proportional to D² and I to D⁴.
func TubeSection[T kinematics.Scalar](r *TubeRules, diameter T) Section[T] {
	if r.WallShare*kinematics.Real(diameter) >= r.MinWallMM {
		shape := r.Shape()
		a, i := kinematics.Lift[T](shape.Area), kinematics.Lift[T](shape.Inertia)
		square := diameter * diameter
		return Section[T]{
			Area: a * square, AreaRate: 2 * a * diameter, Inertia: i * square * square, InertiaRate: 4 * i * square * diameter,
			Modulus: 2 * i * square * diameter, modulusRate: 6 * i * square,
		}
	}
	wall := kinematics.Lift[T](r.MinWallMM)
	inside := diameter - 2*wall
	var s Section[T]
	s.Area = math.Pi * wall * (diameter - wall)
	s.AreaRate = math.Pi * wall
	squares := diameter*diameter + inside*inside
	s.Inertia = s.Area * squares * 0.0625
	s.InertiaRate = (s.AreaRate*squares + 2*s.Area*(diameter+inside)) * 0.0625
	s.Modulus = 2 * s.Inertia / diameter
	s.modulusRate = (2*s.InertiaRate - s.Modulus) / diameter
	return s
}

// Shape is the section of a tube of diameter 1 whose wall is a share of it.
func (r *TubeRules) Shape() Section[float64] {
	inside := 1 - 2*r.WallShare
	var s Section[float64]
	s.Area = math.Pi * r.WallShare * (1 - r.WallShare)
	s.Inertia = s.Area * (1 + inside*inside) * 0.0625
	s.Modulus = 2 * s.Inertia
	return s
}

// LocalBucklingMPa is the compression at which the wall of the thinnest tube within the limits buckles, with r/t of its
// mid-wall radius and wall (NASA SP-8007, from memory): 0.605 γ E t/r, γ = 1 − 0.901 (1 − exp(−√(r/t)/16)). That is
// the knock-down of axial compression; bending alone would have a smaller one.
func (r *TubeRules) LocalBucklingMPa(m *fork.Material) float64 {
	slenderness := (min(1/r.WallShare, r.MaxDiameterMM/r.MinWallMM) - 1) / 2
	knockdown := 1 - 0.901*(1-math.Exp(-math.Sqrt(slenderness)/16))
	return 0.605 * knockdown * m.YoungMPa / slenderness
}

// StrengthMPa is the stress at which a tube yields or its wall buckles, whichever is lower.
func (r *TubeRules) StrengthMPa(m *fork.Material) float64 {
	return min(m.YieldMPa, r.LocalBucklingMPa(m))
}

// Demand is what one tube must carry in one load case.
type Demand[T kinematics.Scalar] struct {
	Axial       T // size of the force along the tube, N
	Bending     T // largest bending moment along it, N·mm
	Compression T // the force where it presses, N; 0 where it pulls
}

// Stress is N/A + M/Z in a tube, in MPa, and its derivative with the diameter.
func (d *Demand[T]) Stress(s *Section[T]) (stress, rate T) {
	byArea, byModulus := kinematics.Inverse(s.Area), kinematics.Inverse(s.Modulus)
	n, m := d.Axial*byArea, d.Bending*byModulus
	return n + m, -(n*byArea*s.AreaRate + m*byModulus*s.modulusRate)
}

// diameterClosed is the tolerance of diameters in mm: far below what any measure resolves, and above rounding.
const diameterClosed = 1e-10

// diameterNear is a Newton step in mm after which the error, of the order of its square over the diameter, is below
// diameterClosed.
const diameterNear = 1e-5

// StrengthDiameter is the diameter at which the stress of a demand is the allowed one, in MPa, given a smaller one that is
// too weak.
func StrengthDiameter(r *TubeRules, d *Demand[float64], allowed, weak float64) float64 {
	if at := proportionalDiameter(r, d, allowed); at*r.WallShare >= r.MinWallMM {
		return at
	}
	return newton(weak, func(x float64) (float64, float64) {
		s := TubeSection(r, x)
		stress, rate := d.Stress(&s)
		return stress - allowed, rate
	})
}

// proportionalDiameter solves σ D³ − N/a D − M/z = 0 for tubes whose wall is a share of the diameter, a and z those
// of the tube of a diameter of 1: x³ − p x − q = 0. The curve is convex to the right of its largest root, so Newton's
// method descends to it from there. With c = ∛q, both c + p/(3c), exact to the second order in p/c², and c + √p are
// upper bounds of the root.
func proportionalDiameter(r *TubeRules, d *Demand[float64], allowed float64) float64 {
	shape := r.Shape()
	p, q := d.Axial/(allowed*shape.Area), d.Bending/(allowed*shape.Modulus)
	c := math.Cbrt(q)
	at := c + math.Sqrt(p)
	if p < 9*c*c {
		at = c + p/(3*c)
	}
	for range 60 {
		square := at * at
		next := (2*square*at + q) / (3*square - p)
		if math.Abs(next-at) < diameterNear {
			return next
		}
		at = next
	}
	return at
}

// BucklingInertia is the second moment in mm⁴ at which a tube between two pivots just carries a force in N
// with the safety factor (Euler): I = safety F L² / (π² E).
func BucklingInertia[T kinematics.Scalar](r *TubeRules, m *fork.Material, force, length T) T {
	return force * length * length * kinematics.Lift[T](r.Safety/(math.Pi*math.Pi*m.YoungMPa))
}

// BucklingDiameter is the diameter of a tube between pivots that is about to buckle (Euler): π² E I / L² = safety × force. need is
// the second moment that this requires, in mm⁴.
func BucklingDiameter(r *TubeRules, need, weak float64) float64 {
	if at := math.Sqrt(math.Sqrt(need / r.Shape().Inertia)); at*r.WallShare >= r.MinWallMM {
		return at
	}
	return newton(weak, func(x float64) (float64, float64) {
		s := TubeSection(r, x)
		return s.Inertia - need, s.InertiaRate
	})
}

// newton finds a root of a monotone function. A step at most doubles or halves the argument.
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
