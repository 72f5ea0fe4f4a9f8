package spaceframe

import (
	"math"

	"forkfront/kinematics"
	"forkfront/objectives/scalar"
	"forkfront/objectives/structure/fatigue"
	"forkfront/objectives/structure/frame"
	"forkfront/objectives/structure/loads"
	"forkfront/objectives/structure/parts"
)

// Derivatives of what the space frame finds. Each takes the factorization of the plain numbers, and what governs them (test,
// tube, side, end) as given.

// OutOfPlaneSlopes are the stiffnesses of OutOfPlane with their derivatives, of a fork whose plain numbers have them.
func OutOfPlaneSlopes(plain *Fork[float64], z *Fork[complex128]) (side, torsion complex128) {
	on := solved(plain, loads.AtSag)
	if on == nil {
		return 0, 0
	}
	f := z.framed(loads.AtSag)
	across := f.sideForce(1)
	d := moved(on, f, map[int]frame.Load[complex128]{f.hub: across})[f.hub]
	side = 1 / (d[2] + d[3]*across[3] + d[4]*across[4])
	d = moved(on, f, map[int]frame.Load[complex128]{f.hub: {3: 1}})[f.hub]
	return side, 1 / d[3] * complex(math.Pi/180/1000, 0)
}

// moved are the displacements of a frame under loads, with their derivatives.
func moved(plain *solvedFrame, f *spaceFrame[complex128], loads map[int]frame.Load[complex128]) frame.Displacements[complex128] {
	values := map[int]frame.Load[float64]{}
	for node, load := range loads {
		var by frame.Load[float64]
		for i := range load {
			by[i] = kinematics.Real(load[i])
		}
		values[node] = by
	}
	return plain.Differentiate(&f.Frame, loads, plain.Solve(values), scalar.Step)
}

// slopes are the displacements under the load with their derivatives.
func (u *underLoad) slopes(z *Fork[complex128]) frame.Displacements[complex128] {
	f := z.framed(u.load.At)
	return u.f.Differentiate(&f.Frame, f.loads(&u.load), u.moved, scalar.Step)
}

// stressSlope is the stress of a tube under a load in MPa, with its derivative.
func (u *underLoad) stressSlope(z *Fork[complex128], on tubeOn) complex128 {
	f := z.framed(u.load.At)
	size := parts.TubeSection(&z.Rules.Tubes, z.Members[on.member].DiameterMM)
	return largestStress(f.Ends(f.tubes[on.side][on.member], u.slopes(z)), size.Area, size.Modulus)
}

// originsOf are those of a proof: none without a proof, or where it is of no frame.
func originsOf(p *Proof) (from origins) {
	if p != nil && p.from != nil {
		from = *p.from.(*origins)
	}
	return from
}

// MarginSlope is the least margin of a proof with its derivative.
func MarginSlope(p *Proof, z *Fork[complex128]) complex128 {
	from := originsOf(p)
	if from.least == nil {
		return 0
	}
	stress := from.least.stressSlope(z, from.least.most)
	return complex(p.Margin*real(stress), 0) * kinematics.Inverse(stress)
}

// DamageSlope is the damage of a proof with its derivative, without what events of the duty do.
func DamageSlope(p *Proof, z *Fork[complex128]) (sum complex128) {
	from := originsOf(p)
	if len(from.wears) == 0 {
		return 0
	}
	rules := z.Rules.Proof
	curve, missing := fatigue.Of(z.Material.Name, rules.Joint, rules.WeldClass)
	if missing != "" {
		return 0
	}
	on := from.worst
	for i := range from.wears {
		w := &from.wears[i]
		largest := w.stress[on.side][on.member]
		by := fatigue.Damage(curve, rules.Deviations, fatigue.Block{LargestMPa: largest, Ratio: w.ratio, Cycles: w.cycles})
		if by > 0 {
			grows := by * curve.Exponent(largest, w.ratio) / largest
			sum += complex(by, grows*imag(w.stressSlope(z, on)))
		}
	}
	return sum
}
