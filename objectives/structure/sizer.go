package structure

import (
	"slices"

	"forkfront/kinematics"
	"forkfront/kinematics/mechanism"
	"forkfront/kinematics/plane"
	"forkfront/objectives/fork"
	"forkfront/objectives/ride"
	"forkfront/objectives/structure/loadpath"
	"forkfront/objectives/structure/loads"
	"forkfront/objectives/structure/sides"
)

// Sizer sizes forks, and is one worker's memory for it.
type Sizer struct {
	plain      Sized[float64]
	tangent    Sized[complex128]
	path       *loadpath.Path
	paths      recent[*loadpath.Path] // of the mechanisms met last
	meshes     recent[*meshes]        // of the load paths and half widths met last
	orders     sides.Orders           // of the unknowns of meshes
	through    []bool                 // by joint, of the fork sized last
	severities []float64
	cases      []sizingCase
	hardened   struct { // what they are of
		rules    *Rules
		material *fork.Material
		cases    int
		oneSided bool // some body of it
	}
	noSeverities string // why there are none
}

// Size sizes the tubes and pivots of a fork by the rules. Where a fork cannot have sizes it returns the reason; the
// result is valid until the next call.
func (sz *Sizer) Size(rules *Rules, ride *ride.Ride[float64], m *mechanism.Mechanism, layout []plane.Vec[float64], across *fork.Across, material *fork.Material) (*Sized[float64], string) {
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
	if why := sz.severe(rules, material, slices.Contains(across.OneSide, true)); why != "" {
		return nil, why
	}
	sz.findPath(m)
	z := &sz.plain
	z.Rules, z.Ride, z.Across, z.Material = rules, ride, across, material
	z.Severities, z.cases = sz.severities, sz.cases
	z.set(sz.path)
	z.extend(m, layout)
	if why := unslidable(z); why != "" {
		return nil, why
	}
	if !z.measure(z.layout) {
		return nil, "a member has no length"
	}
	z.placeAll()
	z.load()
	strength(z)
	fitTubes(z)
	for j := range z.Pivots {
		z.pivot(j)
	}
	sz.mesh(z)
	for pass := range z.passes {
		z.passes[pass] = z.passes[pass][:0]
	}
	z.passes[0] = append(z.passes[0], z.least...)
	z.shareAll(func(pass int) {
		strength(z)
		fitTubes(z)
		z.passes[pass] = append(z.passes[pass], z.least...)
	})
	z.findFlexibilities()
	if z.loose {
		return nil, "pivots that allow tilt leave parts of it loose out of the plane"
	}
	stiffen(z, &rules.Tubes, z.tubeStiffness(rules.ForeAftNPerMM*stiffnessMargin))
	z.finish()
	return z, ""
}

// findPath makes the load path of a mechanism the current one.
func (sz *Sizer) findPath(m *mechanism.Mechanism) {
	if sz.path != nil && sz.path.Mechanism == m {
		return
	}
	for _, sz.path = range sz.paths.all {
		if sz.path.Mechanism == m {
			return
		}
	}
	sz.path = loadpath.New(m)
	*sz.paths.place() = sz.path
}

// severe finds the severities of the load cases for a material, or why there are none.
func (sz *Sizer) severe(rules *Rules, m *fork.Material, oneSided bool) string {
	if h := &sz.hardened; h.rules != rules || h.material != m || h.cases != len(rules.Cases) || h.oneSided != oneSided {
		h.rules, h.material, h.cases, h.oneSided = rules, m, len(rules.Cases), oneSided
		sz.severities, sz.noSeverities = rules.severities(sz.severities[:0], m, oneSided)
		if sz.noSeverities == "" {
			sz.cases = rules.sizingCases(sz.cases[:0], sz.severities)
		}
	}
	return sz.noSeverities
}

// Slopes repeats the sizing of the last fork with the derivatives of its ride and layout.
func (sz *Sizer) Slopes(ride *ride.Ride[complex128], layout []plane.Vec[complex128]) *Sized[complex128] {
	z, plain := &sz.tangent, &sz.plain
	z.plain = plain
	z.Rules, z.Ride, z.Across, z.Material = plain.Rules, ride, plain.Across, plain.Material
	rules := z.Rules
	z.Severities, z.cases = plain.Severities, plain.cases
	z.set(sz.path)
	z.extend(sz.path.Mechanism, layout)
	z.findNotGoverning(plain)
	z.measure(z.layout)
	z.placeAll()
	z.load()
	strengthSlopes(z, plain.passes[0])
	fitTubes(z)
	for j := range z.Pivots {
		z.pivot(j)
	}
	z.symmetric, z.antisymmetric, z.redundancy, z.torqueCrosses = plain.symmetric, plain.antisymmetric, plain.redundancy, plain.torqueCrosses
	z.bendShafts()
	z.shareAll(func(pass int) {
		strengthSlopes(z, plain.passes[pass])
		fitTubes(z)
	})
	z.findFlexibilities()
	stiffSlopes(z, &rules.Tubes, z.tubeStiffness(rules.ForeAftNPerMM*stiffnessMargin), plain.scale)
	z.finish()
	return z
}

// mesh gives a fork the mesh that follows from the half widths of its bodies.
func (sz *Sizer) mesh(z *Sized[float64]) {
	sz.through = plane.Resize(sz.through, len(z.Pivots))
	for j := range z.Pivots {
		a, b := z.ShaftBodies[j][0], z.ShaftBodies[j][1]
		sz.through[j] = z.Pivots[j].Shafts == 1 && (z.Across.Tubes(a) == 2 || z.Across.Tubes(b) == 2)
	}
	of := sz.meshOf(z)
	k := sz.kept(&of)
	stubs, rebuilt := of.Stubs(), k.symmetric.Build(&of)
	z.torqueCrosses = of.TorqueCrosses()
	z.symmetric, z.antisymmetric, z.redundancy = &k.symmetric, nil, &k.redundancy
	if rebuilt {
		k.redundancy = sides.Redundancy{}
		if stubs && len(sz.path.Slides) == 0 {
			k.redundancy.Build(&k.symmetric, &of)
		}
		if !k.redundancy.Few { // else displacements are not found
			k.symmetric.NumberUnknowns(&sz.orders)
		}
	}
	if stubs {
		z.antisymmetric = &k.antisymmetric
		if !k.redundancy.Few {
			k.antisymmetric.Opposed = true
			if k.antisymmetric.Build(&of) {
				k.antisymmetric.NumberUnknowns(&sz.orders)
			}
		}
	}
	z.bendShafts()
}

// meshes are those of one set of half widths.
type meshes struct {
	symmetric, antisymmetric sides.Mesh
	redundancy               sides.Redundancy
}

// mostRecent is the number of meshes and load paths kept: a search that chooses half widths or trees of members comes back to the
// same few, and to make a mesh takes longer than all else about a fork.
const mostRecent = 256

// recent keeps what was made last, up to mostRecent of them.
type recent[T any] struct {
	all      []T
	replaced int // number of those that made room for others
}

// place is where to keep another one: a new place, or that of one of the oldest.
func (r *recent[T]) place() *T {
	if len(r.all) < mostRecent {
		r.all = append(r.all, *new(T))
		return &r.all[len(r.all)-1]
	}
	r.replaced++
	return &r.all[r.replaced%mostRecent]
}

// kept are the meshes that fit a fork, or those to build its own in.
func (sz *Sizer) kept(of *sides.Fork) *meshes {
	for _, k := range sz.meshes.all {
		if k.symmetric.Fits(of) {
			return k
		}
	}
	at := sz.meshes.place()
	if *at == nil {
		*at = &meshes{}
	}
	return *at
}

func (sz *Sizer) meshOf(z *Sized[float64]) sides.Fork {
	k := z.Ride.Shock
	return sides.Fork{
		Path: sz.path, Across: z.Across, ShaftBodies: z.ShaftBodies, Through: sz.through,
		Shocks: k.Count, ShockHalf: z.Across.ShockHalf(k), Tilt: z.Rules.Pivots.Tilt,
	}
}

// placeAll places the fork where it is loaded.
func (z *Sized[T]) placeAll() {
	z.AtStance[loads.TopOut].Place(z.Path, z.Ride.At(0), z.layout, z.inverse)
	z.AtStance[loads.AtSag].Place(z.Path, &z.Ride.Sag, z.layout, z.inverse)
	z.AtStance[loads.FullTravel].Place(z.Path, z.Ride.Full(), z.layout, z.inverse)
	z.measureSlides(loads.AtSag)
}

// finish finds what follows from the diameters: walls and masses.
func (z *Sized[T]) finish() {
	r := &z.Rules.Tubes
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
	z.weighBushes()
	z.shockG = shockMass(z)
}

// Places are the points of the fork where it is loaded, in the mechanism's order.
func (z *Sized[T]) Places(at loads.Stance) []plane.Vec[T] { return z.AtStance[at].Places }

// TravelAt is the travel of a stance, in mm.
func TravelAt(z *Sized[float64], at loads.Stance) float64 { return z.AtStance[at].State.TravelMM }
