package structure

import (
	"math"

	"forkfront/kinematics"
	"forkfront/objectives/scalar"
	"forkfront/objectives/structure/loads"
	"forkfront/objectives/structure/parts"
)

// flexibility is what a member adds to the compliance at the axle, by the unit-load theorem: axial over the area plus
// bending over the second moment of its tube, mm/N.
//
//	axial = n² L / (c E), bending = L (m0² + m0 m1 + m1²) / (3 c E)
//
// with c tubes, n the force along the member and m0, m1 the moments at its ends.
//
// A stiffness is reached with the least mass when the derivatives of compliance and mass with respect to the size have
// one ratio λ for all members that strength does not govern. The mass of a tube is proportional to x L and its compliance
// is p/x + q/x², with x = D² and the wall a share of D; so x³ = λ (p x + 2 q) / L. With a scale s = λ^(1/6) and
// x = s² y this becomes y³ = axialWeight s² y + bendingWeight.
type flexibility[T kinematics.Scalar] struct {
	axial, bending             T
	axialWeight, bendingWeight T
	root                       [2]float64 // of axialWeight and, the cubic one, of bendingWeight
}

// findFlexibilities finds the flexibility of all members for a horizontal force at the axle at sag, the shock
// locked.
func (z *Sized[T]) findFlexibilities() {
	sd := &z.AtStance[loads.AtSag]
	unit := loads.Applied[T]{Force: loads.InFork(sd.State, -1, 0)}
	forces := &z.planar[len(z.planar)-1]
	forces.Take(&z.statics, sd, z.ShaftBodies, z.statics.Solve(sd, &unit), 0.5)
	for i := range z.flexibilities {
		in := &forces.Internal[i]
		by := z.lengths[i] * kinematics.Lift[T](4/(z.least[i].Count*z.Material.YoungMPa))
		z.flexibilities[i] = flexibility[T]{
			axial:   in.Axial * in.Axial * by,
			bending: (in.Start*in.Start + in.Start*in.End + in.End*in.End) * by * kinematics.Lift[T](1./3),
		}
	}
	if z.redundancy.Few {
		z.addRedundant(sd, unit.Force, forces)
		return
	}
	z.addOutOfPlane(sd, unit.Force, forces)
}

// weighMembers finds the coefficients of the optimal diameters.
func (z *Sized[T]) weighMembers(r *parts.TubeRules) {
	shape := r.Shape()
	byArea, byInertia := kinematics.Lift[T](1/shape.Area), kinematics.Lift[T](2/shape.Inertia)
	for i := range z.flexibilities {
		f := &z.flexibilities[i]
		f.weigh(f.axial*byArea*z.inverse[i], f.bending*byInertia*z.inverse[i])
	}
	z.weighSlides(byArea, byInertia)
}

// weighSlides gives the four members of each slide the coefficients of one optimum: that of the inner tube's diameter
// D, with flexibilities and masses of both tubes. Where the outer one is k D, its square is k² times as large, so that
// the coefficients of its own optimum are k⁴ and k⁶ times those of the inner one.
func (z *Sized[T]) weighSlides(byArea, byInertia T) {
	k := z.Rules.Tubes.Fit()
	square := kinematics.Lift[T](k * k)
	for i := range z.Path.Slides {
		s := &z.Path.Slides[i]
		var axial, bending, length T
		for _, n := range s.Inner {
			f := &z.flexibilities[n]
			axial, bending, length = axial+f.axial, bending+f.bending, length+z.lengths[n]
		}
		for _, n := range s.Outer {
			f := &z.flexibilities[n]
			axial, bending, length = axial+f.axial/square, bending+f.bending/(square*square), length+z.lengths[n]*square
		}
		axial, bending = axial*byArea/length, bending*byInertia/length
		for _, n := range s.Inner {
			z.flexibilities[n].weigh(axial, bending)
		}
		for _, n := range s.Outer {
			z.flexibilities[n].weigh(axial*square*square, bending*square*square*square)
		}
	}
}

// weigh sets the coefficients.
func (f *flexibility[T]) weigh(axial, bending T) {
	f.axialWeight, f.bendingWeight = axial, bending
	f.root = [2]float64{math.Sqrt(math.Max(0, kinematics.Real(axial))), math.Cbrt(kinematics.Real(bending))}
}

// optimalDiameter is the diameter at a scale, and its derivative; 0 where it is not above a least one. Newton's method
// starts from an upper bound of the root, as that for a strength does (parts.StrengthDiameter); its last step, which squares the error once more,
// carries the derivatives.
func (f *flexibility[T]) optimalDiameter(scale T, least float64) (diameter, rate T) {
	s, q := kinematics.Real(scale), kinematics.Real(f.bendingWeight)
	p, c := kinematics.Real(f.axialWeight)*s*s, f.root[1]
	y := f.root[0]*s + c
	if p < 9*c*c {
		y = c + p/(3*c)
	}
	if s*s*y <= least*least {
		return 0, 0
	}
	for range 60 {
		square := y * y
		next := (2*square*y + q) / (3*square - p)
		near := math.Abs(next-y) < 1e-8*y
		y = next
		if near {
			break
		}
	}
	square := f.axialWeight * scale * scale
	at := kinematics.Lift[T](y)
	slope := 3*at*at - square
	at -= (at*at*at - square*at - f.bendingWeight) / slope
	side := kinematics.Sqrt(at)
	return scale * side, side + square*side/slope
}

// setDiameters sets every member to the larger of the diameters that strength and stiffness require. It returns the
// compliance of the tubes at the axle in mm/N and its derivative with the scale.
func (z *Sized[T]) setDiameters(r *parts.TubeRules, scale T) (compliance, rate T) {
	for i := range z.Members {
		t, f := &z.Members[i], &z.flexibilities[i]
		*t = z.least[i]
		var grows T
		if scale != 0 {
			if d, by := f.optimalDiameter(scale, kinematics.Real(t.DiameterMM)); kinematics.Real(d) > kinematics.Real(t.DiameterMM) {
				t.DiameterMM, t.Governs, grows = d, Stiffness, by
			}
		}
		size := parts.TubeSection(r, t.DiameterMM)
		n, m := f.axial/size.Area, f.bending/size.Inertia
		compliance += n + m
		if grows != 0 {
			rate -= (n*size.AreaRate/size.Area + m*size.InertiaRate/size.Inertia) * grows
		}
	}
	return compliance, rate
}

// stiffnessMargin is the factor by which sizing aims above the required stiffness, so that rounding does not violate a
// limit at the same number.
const stiffnessMargin = 1 + 1e-9

// leastTubeShare is the least part of the allowed compliance that is left to tubes, however much the shafts take: larger
// tubes cannot make up for shafts that are too slender. Such a fork stays softer than required.
const leastTubeShare = 0.5

// tubeStiffness is the stiffness that the tubes need for the fork to be as stiff as required; 0 where nothing is required.
func (z *Sized[T]) tubeStiffness(wanted float64) T {
	if wanted <= 0 {
		return 0
	}
	left := kinematics.Lift[T](1/wanted) - z.shaftCompliance
	return kinematics.Inverse(scalar.Higher(left, kinematics.Lift[T](leastTubeShare/wanted)))
}

// stiffen enlarges members until the tubes have the required fore-aft stiffness, by Newton's method on the scale, bracketed
// by one that is too small and one that is large enough.
func stiffen(z *Sized[float64], r *parts.TubeRules, wanted float64) {
	z.scale = 0
	z.tubeCompliance, _ = z.setDiameters(r, 0)
	if wanted <= 0 || z.tubeCompliance*wanted <= 1 {
		return
	}
	z.weighMembers(r)
	// A start as if all compliance were bending and strength governed no member.
	sum := 0.0
	for i := range z.flexibilities {
		if y := z.flexibilities[i].root[1]; y > 0 {
			sum += z.flexibilities[i].bending / (y * y)
		}
	}
	z.scale = math.Max(math.Sqrt(math.Sqrt(sum*wanted/r.Shape().Inertia)), 1e-3)
	soft, stiff, helped := scaling{}, scaling{scale: math.Inf(1)}, false
	for range 100 {
		compliance, rate := z.setDiameters(r, z.scale)
		at := scaling{z.scale, math.Log(compliance * wanted)}
		if at.excess > 0 {
			soft = at
		} else {
			stiff = at
		}
		// Compliance falls roughly with the fourth power of the scale, hence the logarithms.
		by := -at.excess * compliance / (rate * z.scale)
		if at.excess == 0 || math.Abs(by) < 1e-13 {
			z.tubeCompliance = compliance
			return
		}
		if z.scale *= math.Exp(by); !(z.scale > soft.scale && z.scale < stiff.scale) { // so too where no member moves with it
			z.scale = bracketed(soft, stiff, helped)
			helped = !helped
		}
	}
	z.tubeCompliance, _ = z.setDiameters(r, z.scale)
}

// scaling is a scale that was tried, and the logarithm of its compliance over the allowed one.
type scaling struct{ scale, excess float64 }

// bracketed is a scale between one that is too small and one that is large enough: by bisection, or by regula falsi in
// logarithms.
func bracketed(soft, stiff scaling, halfWay bool) float64 {
	switch {
	case math.IsInf(stiff.scale, 1):
		return 2 * soft.scale
	case soft.scale == 0:
		return stiff.scale / 2
	case halfWay:
		return math.Sqrt(soft.scale * stiff.scale)
	}
	return soft.scale * math.Pow(stiff.scale/soft.scale, soft.excess/(soft.excess-stiff.excess))
}

// stiffSlopes finds the derivative of the scale by one implicit step.
func stiffSlopes(z *Sized[complex128], r *parts.TubeRules, wanted complex128, scale float64) {
	z.scale = complex(scale, 0)
	if scale > 0 {
		z.weighMembers(r)
		compliance, rate := z.setDiameters(r, z.scale)
		z.scale -= complex(0, imag((compliance-1/wanted)/rate))
	}
	z.tubeCompliance, _ = z.setDiameters(r, z.scale)
}

// Refine finds again what tubes and shafts yield to, at the final sizes: sizing for stiffness uses moments out of the plane at the
// sizes that strength asks for, with which a fork is up to 1 % less stiff than it is. Sizes stay.
func Refine(z *Sized[float64]) {
	if z.scale == 0 {
		return // they are the same sizes
	}
	for i := range z.least {
		z.least[i].DiameterMM = z.Members[i].DiameterMM
	}
	z.round = 2
	z.tubeRigidities()
	z.factorSymmetric(loads.AtSag)
	z.findFlexibilities()
	z.tubeCompliance = 0
	for i := range z.flexibilities {
		f := &z.flexibilities[i]
		z.tubeCompliance += f.axial/z.sections[i].Area + f.bending/z.sections[i].Inertia
	}
}

func ForeAftStiffness[T kinematics.Scalar](z *Sized[T]) T {
	return 1 / (z.tubeCompliance + z.shaftCompliance)
}

// TubeDiameterMax is the largest diameter of any tube.
func TubeDiameterMax[T kinematics.Scalar](z *Sized[T]) T {
	var most T
	for i := range z.Members {
		most = scalar.Higher(most, z.Members[i].DiameterMM)
	}
	return most
}

// Flexibility is what a member adds to the compliance of the axle, fore and aft, in mm/N: the first over the
// area of one of its tubes in mm², the second over its second moment in mm⁴.
func (z *Sized[T]) Flexibility(member int) (byArea, byInertia T) {
	return z.flexibilities[member].axial, z.flexibilities[member].bending
}
