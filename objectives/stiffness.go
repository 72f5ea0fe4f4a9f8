package objectives

import (
	"math"

	"forkfront/kinematics"
)

// flex is how much a member gives under a unit load at the axle, by the unit-load theorem: stretch
// over the area plus bend over the second moment of its tube, mm/N.
//
//	stretch = n² L / (c E), bend = L (m0² + m0 m1 + m1²) / (3 c E)
//
// with c tubes, n the force along the member and m0, m1 the moments at its ends. eager is the
// diameter, up to a scale that all members share, at which stiffness is had for the least mass.
type flex[T kinematics.Scalar] struct{ stretch, bend, eager T }

// yield finds the flexibility of all members for a horizontal force at the axle at sag, the shock
// locked.
func (z *Sized[T]) yield(s *Subject[T]) {
	sd := &z.stands[AtSag]
	unit := applied[T]{force: inFork(sd.state, -1, 0)}
	z.statics.solve(sd, &unit)
	for i := range z.flex {
		in := &z.statics.inside[i]
		by := z.lengths[i] * kinematics.Lift[T](1/(z.least[i].Count*s.design.Material.YoungMPa))
		z.flex[i] = flex[T]{
			stretch: in.axial * in.axial * by,
			bend:    (in.start*in.start + in.start*in.end + in.end*in.end) * by * kinematics.Lift[T](1./3),
		}
	}
}

// eagerness weighs members for stiffness at least mass. The mass of a tube goes by D² L, its give by
// p/D² + q/D⁴; their rates with D are in one ratio for all members when D⁶ goes by (p D² + 2 q) / L.
// On the right the diameter that strength asks for stands in for D.
func (z *Sized[T]) eagerness(r *TubeRules) {
	shape := r.shape()
	byArea, byInertia := kinematics.Lift[T](1/shape.area), kinematics.Lift[T](2/shape.inertia)
	for i := range z.flex {
		f, d := &z.flex[i], z.least[i].DiameterMM
		f.eager = sixth((f.stretch*byArea*d*d + f.bend*byInertia) * z.inverse[i])
	}
}

// sixth is the sixth root of what is not negative.
func sixth[T kinematics.Scalar](x T) T {
	at := kinematics.Real(x)
	if at <= 0 {
		return 0
	}
	root := math.Sqrt(math.Cbrt(at))
	return kinematics.Lift[T](root) + (x-kinematics.Lift[T](at))*kinematics.Lift[T](root/(6*at))
}

// scaled sets every member to the larger of what strength asks for and its share of stiffness. It
// returns the give at the axle, mm/N, and its rate with the scale.
func (z *Sized[T]) scaled(r *TubeRules, scale T) (give, rate T) {
	for i := range z.Members {
		t, f := &z.Members[i], &z.flex[i]
		*t = z.least[i]
		grows := false
		if d := scale * f.eager; kinematics.Real(d) > kinematics.Real(t.DiameterMM) {
			t.DiameterMM, t.Governs, grows = d, Stiffness, true
		}
		size := tubeSection(r, t.DiameterMM)
		n, m := f.stretch/size.area, f.bend/size.inertia
		give += n + m
		if grows {
			rate -= (n*size.areaRate/size.area + m*size.inertiaRate/size.inertia) * f.eager
		}
	}
	return give, rate
}

// stiffen sizes members up until the fore-aft stiffness wanted is met, by Newton on the one scale.
func stiffen(z *Sized[float64], r *TubeRules, wanted float64) {
	z.scale = 0
	z.give, _ = z.scaled(r, 0)
	if wanted <= 0 || z.give*wanted <= 1 {
		return
	}
	sum := 0.0
	shape := r.shape()
	for i := range z.flex {
		if f := &z.flex[i]; f.eager > 0 {
			sum += f.bend / (f.eager * f.eager * f.eager * f.eager)
		}
	}
	z.scale = math.Max(math.Sqrt(math.Sqrt(sum*wanted/shape.inertia)), 1e-3)
	for range 60 {
		give, rate := z.scaled(r, z.scale)
		if rate == 0 { // too small a scale to move any member
			z.scale *= 2
			continue
		}
		by := math.Max(-z.scale/2, math.Min(z.scale, (1/wanted-give)/rate))
		z.scale += by
		if math.Abs(by) < 1e-13*z.scale {
			break
		}
	}
	z.give, _ = z.scaled(r, z.scale)
}

// stiffSlopes gives the scale of plain numbers its derivative.
func stiffSlopes(z *Sized[complex128], r *TubeRules, wanted, scale float64) {
	z.scale = complex(scale, 0)
	if scale > 0 {
		give, rate := z.scaled(r, z.scale)
		z.scale -= complex(0, imag((give-complex(1/wanted, 0))/rate))
	}
	z.give, _ = z.scaled(r, z.scale)
}

func foreAft[T kinematics.Scalar](s *Subject[T]) T { return 1 / s.Sized.give }

// thickest is the largest diameter of any tube.
func thickest[T kinematics.Scalar](s *Subject[T]) T {
	var most T
	for i := range s.Sized.Members {
		most = higher(most, s.Sized.Members[i].DiameterMM)
	}
	return most
}
