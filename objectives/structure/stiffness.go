package structure

import (
	"math"

	"forkfront/kinematics"
	"forkfront/objectives/scalar"
)

// flex is how much a member gives under a unit load at the axle, by the unit-load theorem: stretch
// over the area plus bend over the second moment of its tube, mm/N.
//
//	stretch = n² L / (c E), bend = L (m0² + m0 m1 + m1²) / (3 c E)
//
// with c tubes, n the force along the member and m0, m1 the moments at its ends.
//
// Stiffness is had for the least mass when the rates of give and mass with the size are in one ratio
// λ for all members that strength does not hold. The mass of a tube goes by x L and its give by p/x +
// q/x², x = D² and the wall a share of D; so x³ = λ (p x + 2 q) / L. With a scale s = λ^(1/6) and
// x = s² y it becomes y³ = byStretch s² y + byBend.
type flex[T kinematics.Scalar] struct {
	stretch, bend     T
	byStretch, byBend T
	root              [2]float64 // of byStretch and, the cubic one, of byBend
}

// yield finds the flexibility of all members for a horizontal force at the axle at sag, the shock
// locked.
func (z *Sized[T]) yield() {
	sd := &z.stands[AtSag]
	unit := applied[T]{force: inFork(sd.state, -1, 0)}
	push := z.statics.solve(sd, &unit)
	z.tubeRigidities()
	z.statics.onShafts(z.couples)
	for i := range z.flex {
		in := &z.statics.inside[i]
		by := z.lengths[i] * kinematics.Lift[T](1/(z.least[i].Count*z.material.YoungMPa))
		z.flex[i] = flex[T]{
			stretch: in.axial * in.axial * by,
			bend:    (in.start*in.start + in.start*in.end + in.end*in.end) * by * kinematics.Lift[T](1./3),
		}
	}
	z.offset(sd, unit.force, push)
}

// eagerness weighs members for stiffness at least mass.
func (z *Sized[T]) eagerness(r *TubeRules) {
	shape := r.shape()
	byArea, byInertia := kinematics.Lift[T](1/shape.Area), kinematics.Lift[T](2/shape.Inertia)
	for i := range z.flex {
		f := &z.flex[i]
		f.byStretch, f.byBend = f.stretch*byArea*z.inverse[i], f.bend*byInertia*z.inverse[i]
		f.root = [2]float64{math.Sqrt(math.Max(0, kinematics.Real(f.byStretch))), math.Cbrt(kinematics.Real(f.byBend))}
	}
}

// eager is the diameter at a scale, and its rate. Newton comes down from a bound above the root; the
// last step carries the derivatives.
func (f *flex[T]) eager(scale T) (diameter, rate T) {
	s, p, q := kinematics.Real(scale), kinematics.Real(f.byStretch), kinematics.Real(f.byBend)
	y := f.root[0]*s + f.root[1]
	if y == 0 {
		return 0, 0
	}
	for range 60 {
		next := (2*y*y*y + q) / (3*y*y - p*s*s)
		if math.Abs(next-y) < 1e-15*y {
			break
		}
		y = next
	}
	square := f.byStretch * scale * scale
	at := kinematics.Lift[T](y)
	slope := 3*at*at - square
	at -= (at*at*at - square*at - f.byBend) / slope
	side := kinematics.Sqrt(at)
	return scale * side, side + square*side/slope
}

// scaled sets every member to the larger of what strength asks for and its share of stiffness. It
// returns the compliance at the axle that tubes have, mm/N, and its rate with the scale.
func (z *Sized[T]) scaled(r *TubeRules, scale T) (give, rate T) {
	for i := range z.Members {
		t, f := &z.Members[i], &z.flex[i]
		*t = z.least[i]
		var grows T
		if scale != 0 {
			if d, by := f.eager(scale); kinematics.Real(d) > kinematics.Real(t.DiameterMM) {
				t.DiameterMM, t.Governs, grows = d, Stiffness, by
			}
		}
		size := TubeSection(r, t.DiameterMM)
		n, m := f.stretch/size.Area, f.bend/size.Inertia
		give += n + m
		if grows != 0 {
			rate -= (n*size.areaRate/size.Area + m*size.inertiaRate/size.Inertia) * grows
		}
	}
	return give, rate
}

// onTheStiffSide is by what part more than the stiffness wanted is aimed at, so that a limit at the same
// number is kept in spite of rounding.
const onTheStiffSide = 1 + 1e-9

// leastShare of the compliance that is allowed is left to tubes, however much shafts take: larger tubes do not
// make up for shafts that are too slender. Such a fork stays softer than wanted.
const leastShare = 0.5

// forTubes is the stiffness that tubes have to reach for a fork as stiff as wanted, and 0 where nothing is wanted.
func (z *Sized[T]) forTubes(wanted float64) T {
	if wanted <= 0 {
		return 0
	}
	left := kinematics.Lift[T](1/wanted) - z.shaftCompliance
	return kinematics.Inverse(scalar.Higher(left, kinematics.Lift[T](leastShare/wanted)))
}

// stiffen sizes members up until the fore-aft stiffness wanted of the tubes is met, by Newton on the one scale, kept
// between one that is too small and one that is large enough.
func stiffen(z *Sized[float64], r *TubeRules, wanted float64) {
	z.scale = 0
	z.give, _ = z.scaled(r, 0)
	if wanted <= 0 || z.give*wanted <= 1 {
		return
	}
	z.eagerness(r)
	// As if bending were all that gives and no member were held by strength: a little too small or large.
	sum := 0.0
	for i := range z.flex {
		if y := z.flex[i].root[1]; y > 0 {
			sum += z.flex[i].bend / (y * y)
		}
	}
	z.scale = math.Max(math.Sqrt(math.Sqrt(sum*wanted/r.shape().Inertia)), 1e-3)
	soft, stiff, helped := scaling{}, scaling{scale: math.Inf(1)}, false
	for range 100 {
		give, rate := z.scaled(r, z.scale)
		at := scaling{z.scale, math.Log(give * wanted)}
		if at.off > 0 {
			soft = at
		} else {
			stiff = at
		}
		// Give falls about by the fourth power of the scale, so Newton goes by logarithms.
		by := -at.off * give / (rate * z.scale)
		if at.off == 0 || math.Abs(by) < 1e-13 {
			z.give = give
			return
		}
		if z.scale *= math.Exp(by); !(z.scale > soft.scale && z.scale < stiff.scale) { // so too where no member moves with it
			z.scale = amid(soft, stiff, helped)
			helped = !helped
		}
	}
	z.give, _ = z.scaled(r, z.scale)
}

// scaling is a scale that was tried, and the logarithm of how much too much gives at it.
type scaling struct{ scale, off float64 }

// amid is a scale between one that is too small and one that is large enough: half way, or on the
// straight line between both, in logarithms.
func amid(soft, stiff scaling, halfWay bool) float64 {
	switch {
	case math.IsInf(stiff.scale, 1):
		return 2 * soft.scale
	case soft.scale == 0:
		return stiff.scale / 2
	case halfWay:
		return math.Sqrt(soft.scale * stiff.scale)
	}
	return soft.scale * math.Pow(stiff.scale/soft.scale, soft.off/(soft.off-stiff.off))
}

// stiffSlopes gives the scale of plain numbers its derivative.
func stiffSlopes(z *Sized[complex128], r *TubeRules, wanted complex128, scale float64) {
	z.scale = complex(scale, 0)
	if scale > 0 {
		z.eagerness(r)
		give, rate := z.scaled(r, z.scale)
		z.scale -= complex(0, imag((give-1/wanted)/rate))
	}
	z.give, _ = z.scaled(r, z.scale)
}

func ForeAftStiffness[T kinematics.Scalar](z *Sized[T]) T { return 1 / (z.give + z.shaftCompliance) }

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
	return z.flex[member].stretch, z.flex[member].bend
}
