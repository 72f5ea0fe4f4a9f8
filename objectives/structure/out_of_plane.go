package structure

import (
	"math"

	"forkfront/kinematics"
	"forkfront/kinematics/plane"
	"forkfront/objectives/scalar"
	"forkfront/objectives/structure/loads"
	"forkfront/objectives/structure/parts"
	"forkfront/objectives/structure/sides"
	"forkfront/objectives/structure/skyline"
	"forkfront/objectives/structure/statics"
)

// shaftFrame is one worker's memory for how a fork deforms out of its plane under loads in its plane: bodies at different
// half widths bend the shafts between them, and the shafts twist and bend the tubes that they are fixed to. Forces in the plane do not depend on it. Unknowns are the displacements and rotations of the mesh.
type shaftFrame[T kinematics.Scalar] struct {
	matrix           *skyline.Matrix[T]
	matrices         [rounds][loads.Stances]skyline.Matrix[T]
	factored         bool           // the matrix is: false where nothing moves out of the plane
	displacements    []T            // by unknown: mm and radians
	solutions        [rounds][][]T  // those of each round, by load case, and last of a load on the hub alone; where derivatives need them
	forces           []plane.Vec[T] // see sides.Shear, N
	bendingStiffness []T            // by segment: E I, N·mm²
	compliances      []T            // by segment: its part of the compliance at the axle, mm/N
}

// addOutOfPlane adds the deformation of shafts and tubes out of the plane at sag to the flexibilities of the members and of
// the shafts, for the load on the hub and the forces in the plane that it causes. The stiffness is factored.
func (z *Sized[T]) addOutOfPlane(sd *statics.Placed[T], onHub plane.Vec[T], forces *statics.Planar[T]) {
	o, h := &z.outOfPlane, z.symmetric
	z.shaftCompliance = 0
	o.compliances = plane.Resize(o.compliances, len(h.Segments))
	clear(o.compliances)
	if !o.factored {
		return
	}
	o.solve(z, len(z.cases), sd, onHub, forces)
	for i := range h.Tubes {
		t := &h.Tubes[i]
		start, end, twist := o.tube(z, t, sd)
		z.addFlexibility(t.Member, start, end, twist)
	}
	o.shafts(z)
}

// addFlexibility adds moments out of the plane to the flexibility of a member: of both sides, each carrying half of the
// load. G J is E I / 1.3.
func (z *Sized[T]) addFlexibility(i int, start, end, twist T) {
	by := z.lengths[i] * kinematics.Lift[T](4/(z.least[i].Count*z.Material.YoungMPa))
	z.flexibilities[i].bending += by * ((start*start+start*end+end*end)*kinematics.Lift[T](1./3) + 1.3*twist*twist)
}

// bendShafts finds the bending stiffness of all shafts.
func (z *Sized[T]) bendShafts() {
	o, h := &z.outOfPlane, z.symmetric
	o.bendingStiffness = plane.Resize(o.bendingStiffness, len(h.Segments))
	for i := range h.Segments {
		s := &h.Segments[i]
		square := z.shaftDiameter(s.Shaft)
		square *= square
		o.bendingStiffness[i] = square * square * kinematics.Lift[T](parts.HollowSteel(z.boreOf(s.Shaft)))
	}
}

// stiffness assembles and factors the stiffness of tubes and shafts out of the plane at a stance.
func (z *Sized[T]) stiffness(at loads.Stance) {
	o, h, sd := &z.outOfPlane, z.symmetric, &z.AtStance[at]
	if o.matrix = &o.matrices[z.round][at]; z.plain != nil {
		o.matrix = &o.matrices[0][0]
	}
	o.matrix.Reset(&h.Pattern)
	if z.plain != nil && z.antisymmetric != nil {
		o.matrix.Adopt(&z.plain.outOfPlane.matrices[z.round][at])
	}
	spin := kinematics.Lift[T](z.Rules.Pivots.Spin())
	for i := range h.Tubes {
		t := &h.Tubes[i]
		addAcross(o.matrix, t, z.rigid[t.Member].bending, spin, sd.Along[t.Member], z.inverse[t.Member])
	}
	for i := range h.Segments {
		s := &h.Segments[i]
		rotation := o.bendingStiffness[i] * kinematics.Lift[T](1/s.Length)
		if s.Ends[0] == sides.FreeEnd || s.Ends[1] == sides.FreeEnd {
			continue
		}
		couple(o.matrix.Entry, s, sides.Across, z.axial(s.Shaft)*kinematics.Lift[T](1/s.Length))
		couple(o.matrix.Entry, s, sides.AboutAlong, rotation)
		couple(o.matrix.Entry, s, sides.AboutAhead, rotation)
	}
	if o.factored = h.Pattern.Len() > 0 && o.matrix.Factor(); h.Pattern.Len() > 0 && !o.factored {
		z.loose = true
	}
}

// addAcross adds the stiffness out of the plane of a tube in direction c: its translations across and its rotations about along and ahead at both ends. bend
// is E I / L. The slope along the tube is c₂ r₁ − c₁ r₂, its twist c₁ r₁ + c₂ r₂. spin is that of the rules.
func addAcross[T kinematics.Scalar](m *skyline.Matrix[T], t *sides.Tube, bend, spin T, c plane.Vec[T], inverse T) {
	twist := bend * (1 / 1.3)
	own := twist + twist*spin
	six := 6 * bend * inverse
	twelve := 2 * six * inverse
	aa, ab, bb := c.Along*c.Along, c.Along*c.Ahead, c.Ahead*c.Ahead
	one, two := six*c.Ahead, -six*c.Along
	near1, nearX, near2 := 4*bend*bb+own*aa, (own-4*bend)*ab, 4*bend*aa+own*bb
	far1, farX, far2 := 2*bend*bb-twist*aa, -(2*bend+twist)*ab, 2*bend*aa-twist*bb
	for k, v := range [21]T{
		twelve,
		one, near1,
		two, nearX, near2,
		-twelve, -one, -two, twelve,
		one, far1, farX, -one, near1,
		two, farX, far2, -two, nearX, near2,
	} {
		if at := t.At[0][k]; at >= 0 {
			m.Entry[at] += v
		}
	}
}

// couple adds a spring between displacement i of the inner end of a segment and that of its outer end.
func couple[T kinematics.Scalar](entry []T, s *sides.Segment, i int, spring T) {
	addTo(entry, s, i, i, spring)
	addTo(entry, s, 6+i, 6+i, spring)
	addTo(entry, s, 6+i, i, -spring)
}

// addTo adds to the entry of two displacements of a segment: 0 to 5 are those of its inner end, 6 to 11 those of its outer
// one. Two that are tied to each other count twice on the diagonal.
func addTo[T kinematics.Scalar](entry []T, s *sides.Segment, row, column int, v T) {
	if row < column {
		row, column = column, row
	}
	at := s.At[row*(row+1)/2+column]
	if at < 0 {
		return
	}
	if row != column && s.Number[row] == s.Number[column] {
		v *= 2
	}
	entry[at] += v
}

// shaftDiameter is the outside diameter of a shaft: at a pivot the largest that its loads require.
func (z *Sized[T]) shaftDiameter(shaft int) T {
	switch shaft {
	case sides.WheelAxle:
		return kinematics.Lift[T](parts.WheelAxleMM)
	case sides.EyeShaft:
		return kinematics.Lift[T](parts.EyeShaftMM)
	}
	joints := z.Path.Pivots[shaft].Joints
	most := z.Pivots[joints[0]].ShaftMM
	for _, j := range joints[1:] {
		most = scalar.Higher(most, z.Pivots[j].ShaftMM)
	}
	return most
}

// axial is E A of a shaft, N.
func (z *Sized[T]) axial(shaft int) T {
	diameter, bore := z.shaftDiameter(shaft), z.boreOf(shaft)
	return diameter * diameter * kinematics.Lift[T](parts.SteelMPa*math.Pi/4*(1-bore*bore))
}

func (z *Sized[T]) boreOf(shaft int) float64 {
	if shaft == sides.WheelAxle {
		return parts.WheelAxleBoreMM / parts.WheelAxleMM
	}
	return z.Rules.Pivots.ShaftBore
}

// solve finds the displacements in load case k, of a load on the hub and the forces in the plane that it causes.
func (o *shaftFrame[T]) solve(z *Sized[T], k int, sd *statics.Placed[T], onHub plane.Vec[T], f *statics.Planar[T]) {
	o.collectForces(z, sd, onHub, f)
	o.load(z)
	if z.plain != nil {
		if known := z.plain.outOfPlane.solutions[z.round]; k < len(known) && o.matrix.SolveAdopted(o.displacements, known[k]) {
			return
		}
	}
	o.matrix.Solve(o.displacements)
	if z.plain == nil && z.antisymmetric != nil {
		all := &o.solutions[z.round]
		for len(*all) <= k {
			*all = append(*all, nil)
		}
		(*all)[k] = append((*all)[k][:0], o.displacements...)
	}
}

// collectForces lists the forces on the shafts, of both sides together; see sides.Shear.
func (o *shaftFrame[T]) collectForces(z *Sized[T], sd *statics.Placed[T], onHub plane.Vec[T], f *statics.Planar[T]) {
	o.forces = o.forces[:0]
	for j := range f.Pins {
		o.forces = append(o.forces, f.Pins[j].Times(-2))
	}
	onLower := z.shockLine(sd).Times(2 * f.Push / sd.State.ShockMM)
	o.forces = append(o.forces, onHub, plane.Vec[T]{Along: -onLower.Along, Ahead: -onLower.Ahead}, onLower)
}

// loadOn is the shear force that a segment carries, on its outer part.
func (o *shaftFrame[T]) loadOn(s *sides.Segment) (q plane.Vec[T]) {
	for _, b := range s.Shears {
		q = q.Plus(o.forces[b.Force].Times(kinematics.Lift[T](b.Share)))
	}
	return q
}

// load puts the moments of the forces on the shafts into the right-hand side: half of force times length at either end
// of a segment, or all of it where the other end is free.
func (o *shaftFrame[T]) load(z *Sized[T]) {
	h := z.symmetric
	o.displacements = plane.Resize(o.displacements, h.Pattern.Len())
	clear(o.displacements)
	for i := range h.Segments {
		s := &h.Segments[i]
		if len(s.Shears) == 0 {
			continue
		}
		arm := s.Length / 2
		if s.Ends[0] == sides.FreeEnd || s.Ends[1] == sides.FreeEnd {
			arm = s.Length
		}
		moment := o.loadOn(s).Times(kinematics.Lift[T](arm))
		for end := range s.Ends {
			if k := s.Number[6*end+sides.AboutAlong]; k >= 0 {
				o.displacements[k] -= moment.Ahead
			}
			if k := s.Number[6*end+sides.AboutAhead]; k >= 0 {
				o.displacements[k] += moment.Along
			}
		}
	}
}

// at is a displacement of a node; 0 where it is held.
func (o *shaftFrame[T]) at(h *sides.Mesh, node, which int) T {
	if k := h.Number[node][which]; k >= 0 {
		return o.displacements[k]
	}
	return 0
}

// tube is what a tube carries out of the plane: the bending moments at its start and end and the twisting moment along
// it, N·mm.
func (o *shaftFrame[T]) tube(z *Sized[T], t *sides.Tube, sd *statics.Placed[T]) (start, end, twist T) {
	var from, to [3]T
	for i := range from {
		from[i], to[i] = o.at(z.symmetric, t.Ends[0], i), o.at(z.symmetric, t.Ends[1], i)
	}
	return acrossMoments(z.rigid[t.Member].bending, sd.Along[t.Member], z.inverse[t.Member], from, to)
}

// acrossMoments are the bending moments at the start and end of a tube in direction c and the twisting moment along
// it, from the displacement across and the rotations about along and ahead of both ends.
func acrossMoments[T kinematics.Scalar](bend T, c plane.Vec[T], inverse T, a, b [3]T) (start, end, twist T) {
	first, second := c.Ahead*a[1]-c.Along*a[2], c.Ahead*b[1]-c.Along*b[2]
	chord := (b[0] - a[0]) * inverse
	start = bend * (4*first + 2*second - 6*chord)
	end = -bend * (2*first + 4*second - 6*chord)
	twist = bend * (1 / 1.3) * (c.Along*(b[1]-a[1]) + c.Ahead*(b[2]-a[2]))
	return start, end, twist
}

// shafts adds up the compliance of the shafts of both sides, each carrying half of the load.
func (o *shaftFrame[T]) shafts(z *Sized[T]) {
	h := z.symmetric
	for i := range h.Segments {
		s := &h.Segments[i]
		length := kinematics.Lift[T](s.Length)
		q := o.loadOn(s)
		cube := q.Dot(q) * length * length * length / o.bendingStiffness[i]
		if s.Ends[0] == sides.FreeEnd || s.Ends[1] == sides.FreeEnd {
			o.compliances[i] = cube * kinematics.Lift[T](2./3)
			z.shaftCompliance += o.compliances[i]
			continue
		}
		var apart [3]T
		for k := range apart {
			for end, sign := range [2]T{-1, 1} {
				if u := s.Number[6*end+k]; u >= 0 {
					apart[k] += sign * o.displacements[u]
				}
			}
		}
		turned := (apart[1]*apart[1] + apart[2]*apart[2]) * o.bendingStiffness[i]
		o.compliances[i] = cube*kinematics.Lift[T](1./6) + 2*(turned+apart[0]*apart[0]*z.axial(s.Shaft))/length
		z.shaftCompliance += o.compliances[i]
	}
}
