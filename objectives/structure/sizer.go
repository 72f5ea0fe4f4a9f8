package structure

import (
	"forkfront/kinematics"
	"forkfront/kinematics/plane"
	"forkfront/objectives/fork"
	"forkfront/objectives/ride"
)

// Sizer sizes forks, and is one worker's memory for it.
type Sizer struct {
	plain   Sized[float64]
	tangent Sized[complex128]
	path    *loadPath
	mesh    mesh
	sides   mesh
	through []bool // by joint, of the fork sized last
}

// Size gives the fork of a ride its sizes: those of its design's tubes and pivots that the rules ask for. It
// is refused with a reason where it can have none; what is returned holds until the next fork.
func (sz *Sizer) Size(rules *Rules, ride *ride.Ride[float64], m *kinematics.Mechanism, layout []plane.Vec[float64], across *fork.Across, material *fork.Material) (*Sized[float64], string) {
	switch {
	case rules == nil:
		return nil, "no structure is asked for"
	case m.Unsized() != "":
		return nil, m.Unsized()
	case !m.HasShock():
		return nil, "a fork without a shock has nothing to stand on"
	case across == nil || material == nil:
		return nil, "no half widths or no material are given"
	}
	if sz.path == nil || sz.path.m != m {
		sz.path = newLoadPath(m)
	}
	z := &sz.plain
	z.rules, z.ride, z.across, z.material, z.layout = rules, ride, across, material, layout
	z.set(sz.path, len(rules.Cases))
	if !z.measure(layout) {
		return nil, "a member has no length"
	}
	z.stand()
	z.load()
	strength(z)
	for j := range z.Pivots {
		z.pivot(j)
	}
	sz.lay(z)
	z.passes[0] = append(z.passes[0][:0], z.least...)
	for pass := range sharings {
		if z.sides != nil {
			z.share(pass == sharings-1)
			strength(z)
		}
		z.passes[pass+1] = append(z.passes[pass+1][:0], z.least...)
	}
	z.yield()
	stiffen(z, &rules.Tubes, z.forTubes(rules.ForeAftNPerMM*onTheStiffSide))
	z.finish()
	return z, ""
}

// Slopes gives the fork sized last the derivatives of a ride and its layout.
func (sz *Sizer) Slopes(ride *ride.Ride[complex128], layout []plane.Vec[complex128]) *Sized[complex128] {
	z, plain := &sz.tangent, &sz.plain
	z.rules, z.ride, z.across, z.material, z.layout = plain.rules, ride, plain.across, plain.material, layout
	rules := z.rules
	z.set(sz.path, len(rules.Cases))
	z.idling(plain, len(rules.Cases))
	z.measure(layout)
	z.stand()
	z.load()
	strengthSlopes(z, plain.passes[0])
	for j := range z.Pivots {
		z.pivot(j)
	}
	z.mesh, z.sides = plain.mesh, plain.sides
	for pass := range sharings {
		if z.sides != nil {
			z.share(pass == sharings-1)
			strengthSlopes(z, plain.passes[pass+1])
		}
	}
	z.yield()
	stiffSlopes(z, &rules.Tubes, z.forTubes(rules.ForeAftNPerMM*onTheStiffSide), plain.scale)
	z.finish()
	return z
}

// lay gives a fork the mesh that follows from how it stands across the plane.
func (sz *Sizer) lay(z *Sized[float64]) {
	sz.through = plane.Resize(sz.through, len(z.Pivots))
	for j := range z.Pivots {
		a, b := z.couples[j][0], z.couples[j][1]
		sz.through[j] = z.Pivots[j].Shafts == 1 && (z.across.Tubes(a) == 2 || z.across.Tubes(b) == 2)
	}
	k := z.ride.Shock
	of := meshOf{
		path: sz.path, across: z.across, couples: z.couples, through: sz.through,
		shocks: k.Count, shockHalf: z.across.ShockHalf(k), tilt: z.rules.Pivots.Tilt,
	}
	sz.mesh.build(&of)
	z.mesh, z.sides = &sz.mesh, nil
	if of.stubs() {
		sz.sides.opposed = true
		sz.sides.build(&of)
		z.sides = &sz.sides
	}
}

// stubs tells whether the sides are joined otherwise than by shafts that run from side to side: where all do, they
// share the torque of the brake past the first of them.
func (z *meshOf) stubs() bool {
	for j, pair := range z.couples {
		_, _, point := z.path.m.Joint(j)
		if !z.through[j] && z.across.HalfWidthMM[pair[0]] > 0 && z.across.HalfWidthMM[pair[1]] > 0 && z.path.m.Points[point] != kinematics.PointAxle {
			return true
		}
	}
	return false
}

// stand places the fork where it is loaded.
func (z *Sized[T]) stand() {
	z.stands[TopOut].at(z.path, z.ride.At(0), z.layout, z.inverse)
	z.stands[AtSag].at(z.path, &z.ride.Sag, z.layout, z.inverse)
	z.stands[FullTravel].at(z.path, z.ride.Full(), z.layout, z.inverse)
}

// finish is what follows from the diameters: walls, masses, pivots.
func (z *Sized[T]) finish() {
	r := &z.rules.Tubes
	for i := range z.Members {
		t := &z.Members[i]
		t.WallMM = kinematics.Lift[T](r.MinWallMM)
		if r.WallShare*kinematics.Real(t.DiameterMM) > r.MinWallMM {
			t.WallMM = t.DiameterMM * kinematics.Lift[T](r.WallShare)
		}
	}
	for i := range z.Members {
		z.Members[i].MassG = tubeMass(z, i)
	}
	z.shockG = shockMass(z)
}

// Places are the points of the fork where it is loaded, in the mechanism's order.
func (z *Sized[T]) Places(at Stance) []plane.Vec[T] { return z.stands[at].places }
