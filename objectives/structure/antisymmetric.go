package structure

import (
	"forkfront/kinematics"
	"forkfront/kinematics/plane"
	"forkfront/objectives/structure/parts"
	"forkfront/objectives/structure/sides"
	"forkfront/objectives/structure/skyline"
	"forkfront/objectives/structure/statics"
)

// The torque of a brake enters on the caliper's side. Half of it on both sides is what the loads in the plane contain;
// the other half acts forward on one side and backward on the other. How far it stays on its side depends on the
// stiffness of what joins the sides: through shafts, the wheel axle and the shafts at the shock's eyes.

// antisymmetric is one worker's memory for the deformation of a fork under opposite torques on its two sides.
type antisymmetric[T kinematics.Scalar] struct {
	matrix        skyline.Matrix[T]
	displacements []T // by unknown: mm and radians
}

// solve does what opposedLoads does from the displacements of the mesh. plain is the same without derivatives, which it was solved
// for before; nil if there are none.
func (o *antisymmetric[T]) solve(z *Sized[T], plain *antisymmetric[float64], sd *statics.Placed[T], dst []statics.TubeLoads[T]) {
	h := z.antisymmetric
	clear(dst)
	o.matrix.Reset(&h.Pattern)
	if plain != nil {
		o.matrix.Adopt(&plain.matrix)
	}
	for i := range h.Tubes {
		o.assemble(z, &h.Tubes[i], sd)
	}
	for i := range h.Segments {
		o.segment(z, &h.Segments[i])
	}
	o.shock(z, sd)
	o.bushes(z, sd)
	o.displacements = plane.Resize(o.displacements, h.Pattern.Len())
	clear(o.displacements)
	caliper := h.Number[z.Path.Caliper][sides.InPlane]
	if caliper < 0 {
		return
	}
	if !o.matrix.Factor() {
		z.loose = true
		return
	}
	o.displacements[caliper] = kinematics.Lift[T](0.5)
	if plain == nil {
		o.matrix.Solve(o.displacements)
	} else {
		o.matrix.SolveAdopted(o.displacements, plain.displacements)
	}
	for i := range h.Tubes {
		o.read(z, &h.Tubes[i], sd, &dst[h.Tubes[i].Member])
	}
}

// rigidity is the bending and axial stiffness of a member's tube on one side: E I / L in N·mm and E A / L in N/mm; half
// of a tube that stands for both sides.
type rigidity[T kinematics.Scalar] struct {
	bending, axial    T
	yields, stretches T // their inverses
}

// tubeRigidities finds the stiffness of all tubes at their least sizes.
func (z *Sized[T]) tubeRigidities() {
	z.rigid, z.sections = plane.Resize(z.rigid, len(z.least)), plane.Resize(z.sections, len(z.least))
	for i := range z.least {
		t := &z.least[i]
		z.sections[i] = parts.TubeSection(&z.Rules.Tubes, t.DiameterMM)
		size := &z.sections[i]
		by := z.inverse[i] * kinematics.Lift[T](z.Material.YoungMPa*t.Count/2)
		z.rigid[i] = rigidity[T]{bending: size.Inertia * by, axial: size.Area * by}
		z.rigid[i].yields, z.rigid[i].stretches = kinematics.Inverse(z.rigid[i].bending), kinematics.Inverse(z.rigid[i].axial)
	}
}

func (o *antisymmetric[T]) assemble(z *Sized[T], t *sides.Tube, sd *statics.Placed[T]) {
	bend, stretch := z.rigid[t.Member].bending, z.rigid[t.Member].axial
	c, inverse := sd.Along[t.Member], z.inverse[t.Member]
	addAcross(&o.matrix, t, bend, kinematics.Lift[T](z.Rules.Pivots.Spin()), c, inverse)
	six := 6 * bend * inverse
	twelve := 2 * six * inverse
	one, two := -six*c.Ahead, six*c.Along
	xx := stretch*c.Along*c.Along + twelve*c.Ahead*c.Ahead
	xy := (stretch - twelve) * c.Along * c.Ahead
	yy := stretch*c.Ahead*c.Ahead + twelve*c.Along*c.Along
	for k, v := range [21]T{
		xx,
		xy, yy,
		one, two, 4 * bend,
		-xx, -xy, -one, xx,
		-xy, -yy, -two, xy, yy,
		one, two, 2 * bend, -one, -two, 4 * bend,
	} {
		if at := t.At[1][k]; at >= 0 {
			o.matrix.Entry[at] += v
		}
	}
}

// segment adds a piece of a shaft, which lies along the direction across: it bends along and ahead, stretches and twists. At
// the mid-plane it neither moves along or ahead nor twists, and rotates freely about along and ahead.
func (o *antisymmetric[T]) segment(z *Sized[T], s *sides.Segment) {
	diameter, bore, lift := z.shaftDiameter(s.Shaft), z.boreOf(s.Shaft), kinematics.Lift[T]
	square, length := diameter*diameter, s.Length
	bend := square * square * lift(parts.HollowSteel(bore)/length) // E I / L
	entry := o.matrix.Entry
	if s.Ends[0] == sides.MidPlane {
		const at = 6 // of the outer end
		addTo(entry, s, at+sides.Along, at+sides.Along, bend*lift(3/(length*length)))
		addTo(entry, s, at+sides.Ahead, at+sides.Ahead, bend*lift(3/(length*length)))
		addTo(entry, s, at+sides.Along, at+sides.AboutAhead, bend*lift(-3/length))
		addTo(entry, s, at+sides.Ahead, at+sides.AboutAlong, bend*lift(3/length))
		addTo(entry, s, at+sides.AboutAhead, at+sides.AboutAhead, 3*bend)
		addTo(entry, s, at+sides.AboutAlong, at+sides.AboutAlong, 3*bend)
		addTo(entry, s, at+sides.InPlane, at+sides.InPlane, bend*lift(1/1.3))
		return
	}
	couple(entry, s, sides.Across, z.axial(s.Shaft)*lift(1/length))
	couple(entry, s, sides.InPlane, bend*lift(1/1.3))
	// The slope of the shaft is the rotation about ahead where it bends along, and minus that about along where it
	// bends ahead.
	for _, way := range [2]struct {
		moves, turns int
		sign         float64
	}{{sides.Along, sides.AboutAhead, 1}, {sides.Ahead, sides.AboutAlong, -1}} {
		couple(entry, s, way.moves, bend*lift(12/(length*length)))
		six := bend * lift(6*way.sign/length)
		for end, sign := range [2]T{1, -1} {
			addTo(entry, s, 6*end+way.moves, way.turns, sign*six)
			addTo(entry, s, 6*end+way.moves, 6+way.turns, sign*six)
			addTo(entry, s, 6*end+way.turns, 6*end+way.turns, 4*bend)
		}
		addTo(entry, s, way.turns, 6+way.turns, 2*bend)
	}
}

// shock adds a shock on this side, locked: as stiff along its line as a rod of steel of 10 mm.
func (o *antisymmetric[T]) shock(z *Sized[T], sd *statics.Placed[T]) {
	h := z.antisymmetric
	if h.Shocks < 2 || h.Eyes[0] < 0 || h.Eyes[1] < 0 {
		return
	}
	_, upper := z.Path.Mechanism.ShockEnd(0)
	_, lower := z.Path.Mechanism.ShockEnd(1)
	line := sd.Places[lower].Minus(sd.Places[upper])
	square := line.Dot(line)
	by := kinematics.Lift[T](parts.SteelMPa*parts.LockedMM2) / (square * kinematics.Sqrt(square))
	lines := [4]T{-line.Along, -line.Ahead, line.Along, line.Ahead}
	for i, p := range lines {
		for k, q := range lines[:i+1] {
			row, column := h.Number[h.Eyes[i/2]][sides.Along+i%2], h.Number[h.Eyes[k/2]][sides.Along+k%2]
			if row >= 0 && column >= 0 {
				o.matrix.Entry[h.Pattern.At(row, column)] += p * q * by
			}
		}
	}
}

// shareRate is the factor by which bushes are softer where the torque of the brake is shared: less rounding, and still
// stiffer than tubes.
const shareRate = 100

// bushes adds those of slides on one side: springs square to the tubes, in the plane; they are tied across it.
func (o *antisymmetric[T]) bushes(z *Sized[T], sd *statics.Placed[T]) {
	h := z.antisymmetric
	for i, pair := range h.Bushes {
		s := &z.Path.Slides[i/2]
		line := sd.Places[s.Through[1]].Minus(sd.Places[s.Mouth])
		square := line.Quarter().Times(plane.Inverse(plane.Sqrt(line.Dot(line))))
		lines := [4]T{-square.Along, -square.Ahead, square.Along, square.Ahead}
		for k, p := range lines {
			for n, q := range lines[:k+1] {
				row, column := h.Number[pair[k/2]][sides.Along+k%2], h.Number[pair[n/2]][sides.Along+n%2]
				if row >= 0 && column >= 0 {
					o.matrix.Entry[h.Pattern.At(row, column)] += p * q * kinematics.Lift[T](parts.SlideBushRate/shareRate)
				}
			}
		}
	}
}

func (o *antisymmetric[T]) read(z *Sized[T], t *sides.Tube, sd *statics.Placed[T], r *statics.TubeLoads[T]) {
	var a, b [6]T
	for i := range a {
		if k := z.antisymmetric.Number[t.Ends[0]][i]; k >= 0 {
			a[i] = o.displacements[k]
		}
		if k := z.antisymmetric.Number[t.Ends[1]][i]; k >= 0 {
			b[i] = o.displacements[k]
		}
	}
	bend, stretch := z.rigid[t.Member].bending, z.rigid[t.Member].axial
	c, inverse := sd.Along[t.Member], z.inverse[t.Member]
	r.OutOfPlaneStart, r.OutOfPlaneEnd, r.Twist = acrossMoments(bend, c, inverse, [3]T(a[:3]), [3]T(b[:3]))
	gone := plane.Vec[T]{Along: b[sides.Along] - a[sides.Along], Ahead: b[sides.Ahead] - a[sides.Ahead]}
	chord := c.Cross(gone) * inverse
	r.Axial = stretch * c.Dot(gone)
	r.Start = -bend * (4*a[sides.InPlane] + 2*b[sides.InPlane] - 6*chord)
	r.End = bend * (2*a[sides.InPlane] + 4*b[sides.InPlane] - 6*chord)
}
