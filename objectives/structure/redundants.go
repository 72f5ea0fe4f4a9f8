package structure

import (
	"math"

	"forkfront/kinematics"
	"forkfront/kinematics/plane"
	"forkfront/objectives/structure/loads"
	"forkfront/objectives/structure/parts"
	"forkfront/objectives/structure/sides"
	"forkfront/objectives/structure/skyline"
	"forkfront/objectives/structure/statics"
)

// cross finds what the shock and the shafts that cross the mid-plane do on one side, where this side's share of the force
// on the hub is given.
func (z *Sized[T]) cross(f *statics.Planar[T], sd *statics.Placed[T], onHub plane.Vec[T]) {
	onLower := z.shockLine(sd).Times(f.Push / sd.State.ShockMM)
	half := kinematics.Lift[T](z.Across.ShockHalf(z.Ride.Shock))
	f.Couple = onLower.Quarter().Times(half)
	f.Passes = plane.Resize(f.Passes, len(z.redundancy.Crossing))
	for i := range f.Passes {
		switch c := &z.redundancy.Crossing[i]; {
		case c.Eye == 1:
			f.Passes[i] = onLower
		case c.Eye == 0:
			f.Passes[i] = plane.Vec[T]{Along: -onLower.Along, Ahead: -onLower.Ahead}
		case c.Point == z.Path.Hub:
			f.Passes[i] = onHub
		default:
			f.Passes[i] = plane.Vec[T]{}
		}
	}
}

// shockLine is from the upper eye of the shock to the lower one, mm.
func (z *Sized[T]) shockLine(sd *statics.Placed[T]) plane.Vec[T] {
	_, upper := z.Path.Mechanism.ShockEnd(0)
	_, lower := z.Path.Mechanism.ShockEnd(1)
	return sd.Places[lower].Minus(sd.Places[upper])
}

// tubeForm says what a load out of the plane does in a tube: with s across and c about the origin, the bending moment in
// its middle is bending · (s, c), changing by s along each mm, and the twisting moment twist · (s, c). energy is the
// lower triangle of the quadratic form whose product with L/(E I) is twice the energy of bending and twist.
type tubeForm[T kinematics.Scalar] struct {
	bending, twist triple[T]
	energy         [6]T
}

// triple is a force across, and moments about along and ahead.
type triple[T kinematics.Scalar] [3]T

func (a *triple[T]) dot(b *triple[T]) T { return a[0]*b[0] + a[1]*b[1] + a[2]*b[2] }

func (a *triple[T]) add(b *triple[T], times T) {
	a[0] += b[0] * times
	a[1] += b[1] * times
	a[2] += b[2] * times
}

// twistMore is by how much a tube yields more to a twisting moment than to a bending moment: E I / (G J) with a Poisson's
// ratio of 0.3.
const twistMore = 1.3

func newTubeForm[T kinematics.Scalar](middle, u plane.Vec[T], length T) (f tubeForm[T]) {
	p, q := middle.Dot(u), middle.Cross(u)
	f.bending, f.twist = triple[T]{p, -u.Ahead, u.Along}, triple[T]{q, u.Along, u.Ahead}
	aa, ab, bb := u.Along*u.Along, u.Along*u.Ahead, u.Ahead*u.Ahead
	f.energy = [6]T{
		p*p + length*length*kinematics.Lift[T](1./12) + twistMore*q*q,
		twistMore*q*u.Along - p*u.Ahead, bb + twistMore*aa,
		twistMore*q*u.Ahead + p*u.Along, (twistMore - 1) * ab, aa + twistMore*bb,
	}
	return f
}

// shaftForm is the same of a segment of a shaft: lengths over E I and over E A, and where it is.
type shaftForm[T kinematics.Scalar] struct {
	bend, stretch T // 1/(N·mm), mm/N
	at            plane.Vec[T]
	energy        [6]T // of a redundant load
}

// redundants is one worker's memory for the redundant forces of a fork at one stance.
type redundants[T kinematics.Scalar] struct {
	placed  bool // forms are those of the current fork
	tubes   []tubeForm[T]
	shafts  []shaftForm[T] // by segment; those that end free have none
	entries []T            // of the symmetric matrix: the part of the shafts
	matrix  skyline.Matrix[T]
	x       []T
	opposed opposedRedundants[T]
}

// place finds what depends on the stance, but not on the sizes of tubes.
func (r *redundants[T]) place(z *Sized[T], sd *statics.Placed[T]) {
	if r.placed {
		return
	}
	r.placed, r.opposed.placed = true, false
	r.tubes = plane.Resize(r.tubes, len(z.Path.Members))
	for i, mb := range z.Path.Members {
		middle := sd.Places[mb.From].Plus(sd.Places[mb.To]).Times(0.5)
		r.tubes[i] = newTubeForm(middle, sd.Along[i], z.lengths[i])
	}
	h := z.symmetric
	r.shafts = plane.Resize(r.shafts, len(h.Segments))
	r.entries = plane.Resize(r.entries, z.redundancy.Symmetric.Stored())
	clear(r.entries)
	for i := range h.Segments {
		s := &h.Segments[i]
		if s.Free() {
			continue
		}
		f := &r.shafts[i]
		f.bend = kinematics.Lift[T](s.Length) * kinematics.Inverse(z.outOfPlane.bendingStiffness[i])
		f.stretch = kinematics.Lift[T](s.Length) * kinematics.Inverse(z.axial(s.Shaft))
		f.at = sd.Places[s.Point]
		a, b := f.at.Along, f.at.Ahead
		f.energy = [6]T{(a*a+b*b)*f.bend + f.stretch, -b * f.bend, f.bend, a * f.bend, 0, f.bend}
		for _, b := range z.redundancy.OnSegment[i] {
			addBlock(r.entries, b.Row, b.Column, &f.energy, kinematics.Lift[T](b.Sign))
		}
	}
}

// addBlock adds a symmetric block of three by three, given by its lower triangle, to a full matrix.
func addBlock[T kinematics.Scalar](entry []T, row, column int, by *[6]T, times T) {
	first := row*(row+1)/2 + column
	second := first + row + 1
	third := second + row + 2
	b := by[1] * times
	c := by[3] * times
	d := by[4] * times
	entry[first] += by[0] * times
	entry[second] += b
	entry[second+1] += by[2] * times
	entry[third] += c
	entry[third+1] += d
	entry[third+2] += by[5] * times
	if row != column {
		entry[first+1] += b
		entry[first+2] += c
		entry[second+2] += d
	}
}

// factor prepares the redundant forces of symmetric loads for the current sizes.
func (r *redundants[T]) factor(z *Sized[T]) {
	r.matrix.Reset(&z.redundancy.Symmetric)
	copy(r.matrix.Entry, r.entries)
	for i := range r.tubes {
		yields := z.rigid[i].yields
		for _, b := range z.redundancy.OnTube[i] {
			addBlock(r.matrix.Entry, b.Row, b.Column, &r.tubes[i].energy, yields*kinematics.Lift[T](b.Sign))
		}
	}
	r.matrix.Factor() // always positive definite, as parts yield to whatever loads them
}

// outOfPlaneOf is the bending and twisting moment out of the plane that forces in the plane alone cause in a tube.
func (z *Sized[T]) outOfPlaneOf(f *statics.Planar[T], i int, u plane.Vec[T]) (bending, twist T) {
	half := kinematics.Lift[T](z.Across.HalfWidthMM[z.Path.Members[i].Body])
	in := &f.Internal[i]
	bending, twist = -half*in.Axial, half*(in.Start-in.End)*z.inverse[i]
	switch z.redundancy.Shock.Tubes[i] {
	case 1:
		return bending + u.Cross(f.Couple), twist + u.Dot(f.Couple)
	case -1:
		return bending - u.Cross(f.Couple), twist - u.Dot(f.Couple)
	}
	return bending, twist
}

// onShaft is the force in the plane that a segment carries, and the moment in its middle.
func (z *Sized[T]) onShaft(f *statics.Planar[T], i int) (force, moment plane.Vec[T]) {
	s := &z.symmetric.Segments[i]
	if s.Passes >= 0 {
		force = f.Passes[s.Passes]
	}
	for _, b := range s.Shears {
		if b.Force < len(f.Pins) {
			force = force.Plus(f.Pins[b.Force].Times(kinematics.Lift[T](2 * b.Share)))
		}
	}
	moment = force.Quarter().Times(kinematics.Lift[T](-s.Inner - s.Length/2))
	if by := z.redundancy.Shock.Segments[i]; by != 0 {
		moment = moment.Plus(f.Couple.Times(kinematics.Lift[T](by)))
	}
	return force, moment
}

// with is the part of a redundant load in the energy with a moment out of the plane in a shaft.
func (f *shaftForm[T]) with(moment plane.Vec[T]) triple[T] {
	return triple[T]{f.at.Cross(moment) * f.bend, moment.Along * f.bend, moment.Ahead * f.bend}
}

// symmetricLoads finds the loads out of the plane in all tubes under a load in the plane that is alike on both sides.
func (r *redundants[T]) symmetricLoads(z *Sized[T], sd *statics.Placed[T], f *statics.Planar[T], dst []statics.TubeLoads[T]) []T {
	plan := z.redundancy
	r.x = plane.Resize(r.x, 3*len(plan.Triples))
	x := r.x
	clear(x)
	for i := range dst {
		bending, twist := z.outOfPlaneOf(f, i, sd.Along[i])
		dst[i].OutOfPlaneStart, dst[i].Twist = bending, twist
		form, yields := &r.tubes[i], z.rigid[i].yields
		bending, twist = bending*yields, twist*yields*twistMore
		for _, s := range plan.InTube[i] {
			sign := kinematics.Lift[T](-s.Sign)
			at := (*triple[T])(x[3*s.Triple:])
			at.add(&form.bending, bending*sign)
			at.add(&form.twist, twist*sign)
		}
	}
	for i := range r.shafts {
		if z.symmetric.Segments[i].Free() {
			continue
		}
		_, moment := z.onShaft(f, i)
		by := r.shafts[i].with(moment)
		for _, s := range plan.InSegment[i] {
			(*triple[T])(x[3*s.Triple:]).add(&by, kinematics.Lift[T](-s.Sign))
		}
	}
	r.matrix.Solve(x)
	for i := range dst {
		load := total(x, plan.InTube[i])
		form := &r.tubes[i]
		middle := dst[i].OutOfPlaneStart + form.bending.dot(&load)
		change := load[0] * z.lengths[i] * 0.5
		dst[i].OutOfPlaneStart, dst[i].OutOfPlaneEnd = middle-change, middle+change
		dst[i].Twist += form.twist.dot(&load)
	}
	return x
}

// shaftColumn is what a load in the plane causes in a segment of a shaft.
type shaftColumn[T kinematics.Scalar] struct {
	force, moment plane.Vec[T]
	twist         T
}

func total[T kinematics.Scalar](x []T, which []sides.Signed) (sum triple[T]) {
	for _, s := range which {
		sum.add((*triple[T])(x[3*s.Triple:]), kinematics.Lift[T](s.Sign))
	}
	return sum
}

// addRedundant adds the deformation of shafts and tubes out of the plane to the flexibilities, as addOutOfPlane does. The
// matrix at sag is factored.
func (z *Sized[T]) addRedundant(sd *statics.Placed[T], onHub plane.Vec[T], f *statics.Planar[T]) {
	r, o := &z.redundants[loads.AtSag], &z.outOfPlane
	z.shaftCompliance = 0
	o.compliances = plane.Resize(o.compliances, len(o.bendingStiffness))
	clear(o.compliances)
	z.cross(f, sd, onHub.Times(0.5))
	x := r.symmetricLoads(z, sd, f, z.loads)
	for i := range z.loads {
		z.addFlexibility(i, z.loads[i].OutOfPlaneStart, z.loads[i].OutOfPlaneEnd, z.loads[i].Twist)
	}
	for i := range z.symmetric.Segments {
		s := &z.symmetric.Segments[i]
		length := kinematics.Lift[T](s.Length)
		if s.Free() { // both sides bend by the force of their shock
			force := z.shockLine(sd).Times(f.Push / sd.State.ShockMM)
			o.compliances[i] = force.Dot(force) * length * length * length * kinematics.Lift[T](2./3) / o.bendingStiffness[i]
		} else {
			force, moment := z.onShaft(f, i)
			by := total(x, z.redundancy.InSegment[i])
			at := &r.shafts[i]
			moment.Along += by[1] - at.at.Ahead*by[0]
			moment.Ahead += by[2] + at.at.Along*by[0]
			bent := moment.Dot(moment) + force.Dot(force)*length*length*kinematics.Lift[T](1./12)
			o.compliances[i] = 2 * (bent*at.bend + by[0]*by[0]*at.stretch)
		}
		z.shaftCompliance += o.compliances[i]
	}
}

// eyeShafts is what a force of 1 N moves the ends of the shafts by that hold the shock of one side, mm/N.
func (z *Sized[T]) eyeShafts() float64 {
	sum := 0.0
	for end := range z.Path.Eyes {
		body, _ := z.Path.Mechanism.ShockEnd(end)
		if z.Path.Eyes[end] >= 0 {
			arm := math.Abs(z.Across.ShockHalf(z.Ride.Shock) - z.Across.HalfWidthMM[body])
			sum += arm * arm * arm / (3 * parts.HollowSteel(z.Rules.Pivots.ShaftBore) * parts.EyeShaftMM * parts.EyeShaftMM * parts.EyeShaftMM * parts.EyeShaftMM)
		}
	}
	return sum
}
