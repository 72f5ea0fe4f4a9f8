package spaceframe

import (
	"math"
	"slices"

	"forkfront/kinematics"
	"forkfront/kinematics/plane"
	"forkfront/kinematics/scheme"
	"forkfront/objectives/scalar"
	"forkfront/objectives/structure/frame"
	"forkfront/objectives/structure/loads"
	"forkfront/objectives/structure/parts"
)

// spaceFrame is a sized fork at one stance as a space frame, both of its sides: tubes, pivot shafts, the wheel
// axle, the shafts at the shock's eyes, and the shock as a rod. A shaft is fixed to one body; the others at the
// pivot share all of its displacements except the rotation about it, or only the translations where pivots tilt.
// The bushes of a slide pass forces square to its tubes and no moments, so that a tube may turn about its axis in the
// other. The wheel's hub is a point on the axle in the mid-plane. The crown is rigid at root.
type spaceFrame[T kinematics.Scalar] struct {
	frame.Frame[T]
	z      *Fork[T]
	places []plane.Vec[T]
	points []int      // by node: the mechanism's point that it is at
	parts  []beamPart // by beam
	nodes  [2][]int   // by side and node of the load path; −1: none
	tubes  [2][]int   // beams by side and member; −1: none
	seats  []seat     // where bodies turn on shafts
	bushes []bush     // of slides
	hub    int
}

// seat is where on one side of a frame a body turns on the shaft of a pivot of the load path.
type seat struct {
	pivot, body int
	node        int // the body's, or the shaft's where that is held
}

// beamPart says which part of the fork a beam stands for: a member's tube, or the shaft of a pivot of the load path, or
// the parts that have no number.
type beamPart struct {
	kind   partKind
	number int
}

type partKind int

const (
	tubePart partKind = iota
	shaftPart
	axlePart
	eyeShaftPart
	shockPart
)

func newSpaceFrame[T kinematics.Scalar](z *Fork[T], at loads.Stance) *spaceFrame[T] {
	f := &spaceFrame[T]{z: z, places: z.AtStance[at].Places}
	p := z.Path
	for side := range f.nodes {
		f.nodes[side] = slices.Repeat([]int{-1}, len(p.Members)+len(p.Mechanism.Bodies))
		f.tubes[side] = slices.Repeat([]int{-1}, len(p.Members))
		for i, mb := range p.Members {
			if !f.has(mb.Body, side) {
				continue
			}
			from, to := f.memberNode(p.From[i], mb.Body, mb.From, side), f.memberNode(i, mb.Body, mb.To, side)
			if f.tubes[0][i] < 0 || z.Across.HalfWidthMM[mb.Body] > 0 {
				f.tubes[side][i] = f.tube(from, to, i)
			}
		}
	}
	f.hub = f.node(p.Hub, 0)
	for i := range p.Pivots {
		f.pivot(i)
	}
	f.shocks()
	f.slides()
	for side := range f.nodes {
		if root := f.nodes[side][len(p.Members)+p.Mechanism.Ground()]; root >= 0 {
			f.Hold(root, 6)
		}
	}
	return f
}

// has tells whether a body has a tube on a side, of which 0 is the caliper's. One in the mid-plane counts for both.
func (f *spaceFrame[T]) has(body, side int) bool { return side == 0 || !f.z.Across.OneSide[body] }

// node adds a node at a point, at a distance from the mid-plane.
func (f *spaceFrame[T]) node(point int, half float64) int {
	f.points = append(f.points, point)
	return f.Node([3]T{f.places[point].Along, f.places[point].Ahead, kinematics.Lift[T](half)})
}

// beam adds a beam that stands for a part.
func (f *spaceFrame[T]) beam(a, b int, part beamPart, r frame.Rigidity[T]) int {
	f.parts = append(f.parts, part)
	return f.Beam(a, b, r)
}

// half is where a body's tubes lie on a side.
func (f *spaceFrame[T]) half(body, side int) float64 {
	return f.z.Across.HalfWidthMM[body] * float64(1-2*side)
}

func (f *spaceFrame[T]) memberNode(n, body, point, side int) int {
	switch {
	case f.nodes[side][n] >= 0:
	case side == 1 && f.z.Across.HalfWidthMM[body] == 0:
		f.nodes[side][n] = f.nodes[0][n]
	default:
		f.nodes[side][n] = f.node(point, f.half(body, side))
	}
	return f.nodes[side][n]
}

func (f *spaceFrame[T]) tube(from, to, member int) int {
	t := &f.z.Members[member]
	size := parts.TubeSection(&f.z.Rules.Tubes, t.DiameterMM)
	rigidity := frame.RigidityOf(f.z.Material.YoungMPa, size.Area, size.Inertia)
	rigidity.Spin = f.z.Rules.Pivots.Spin()
	return f.beam(from, to, beamPart{tubePart, member}, rigidity)
}

// stop is where along a shaft something is fixed to it or turns on it.
type stop struct {
	half float64
	node int
}

// pivot adds the shafts of a pivot: one from side to side, or one on each side.
func (f *spaceFrame[T]) pivot(number int) {
	p, across := &f.z.Path.Pivots[number], f.z.Across
	axle := f.z.Path.Mechanism.Points[p.Point] == scheme.PointAxle
	paired := func(b int) bool { return across.Tubes(b) == 2 }
	if axle || slices.ContainsFunc(p.Bodies, func(b int) bool { return across.HalfWidthMM[b] == 0 }) ||
		f.z.Pivots[p.Joints[0]].Shafts == 1 && slices.ContainsFunc(p.Bodies, paired) {
		f.shaft(number, 0, 1)
		return
	}
	f.shaft(number, 0, 0)
	f.shaft(number, 1, 1)
}

// shaft adds the shaft of a pivot from one side to the other.
func (f *spaceFrame[T]) shaft(number, first, last int) {
	path := f.z.Path
	p := &path.Pivots[number]
	bodies := slices.DeleteFunc(slices.Clone(p.Bodies), func(b int) bool { return !f.has(b, first) && !f.has(b, last) })
	axle := path.Mechanism.Points[p.Point] == scheme.PointAxle
	if len(bodies) < 2 && !axle {
		return
	}
	var at []stop
	owner := path.Owner(p.Point, bodies, f.z.Across)
	place := func(half float64, node int) int {
		if i := slices.IndexFunc(at, func(s stop) bool { return s.half == half }); i >= 0 {
			return at[i].node
		}
		if node < 0 {
			node = f.node(p.Point, half)
		}
		at = append(at, stop{half, node})
		return node
	}
	for side := first; side <= last; side++ {
		f.onShaft(number, owner, side, place, true)
	}
	if axle {
		if on := place(0, f.hub); on != f.hub {
			f.Tie(f.hub, on, 6)
		}
	}
	for _, b := range bodies {
		for side := first; side <= last && b != owner; side++ {
			f.onShaft(number, b, side, place, false)
		}
	}
	slices.SortFunc(at, func(a, b stop) int { return int(math.Copysign(1, a.half-b.half)) })
	part := beamPart{shaftPart, number}
	if axle {
		part = beamPart{kind: axlePart}
	}
	for i := 1; i < len(at); i++ {
		f.beam(at[i-1].node, at[i].node, part, hollow(f.ring(part)))
	}
}

// onShaft puts a body on a shaft on one side: fixed to it, or free to turn about it.
func (f *spaceFrame[T]) onShaft(number, body, side int, place func(half float64, node int) int, fixed bool) {
	if !f.has(body, side) {
		return
	}
	passed, p := f.passed(), &f.z.Path.Pivots[number]
	if fixed {
		passed = 6
	}
	n := -1
	if on := f.z.Path.Node(body, p.Point); on >= 0 {
		n = f.nodes[side][on]
	}
	on := n
	switch {
	case n < 0: // on the frame
		on = place(f.half(body, side), -1)
		f.Hold(on, passed)
	case fixed:
		f.Tie(n, place(f.half(body, side), n), 6)
	default:
		f.Tie(n, place(f.half(body, side), -1), passed)
	}
	if !fixed && !(side == 1 && f.half(body, side) == 0) {
		f.seats = append(f.seats, seat{number, body, on})
	}
}

// passed is how many of a shaft's displacements a body on it shares.
func (f *spaceFrame[T]) passed() int {
	if f.z.Rules.Pivots.Tilt == parts.TiltFree {
		return 3
	}
	return 5
}

// ring is the outside diameter in mm of a part that is a shaft, and its bore over that.
func (f *spaceFrame[T]) ring(part beamPart) (outside T, bore float64) {
	share := f.z.Rules.Pivots.ShaftBore
	switch part.kind {
	case axlePart:
		return kinematics.Lift[T](parts.WheelAxleMM), parts.WheelAxleBoreMM / parts.WheelAxleMM
	case eyeShaftPart:
		return kinematics.Lift[T](parts.EyeShaftMM), share
	}
	for _, j := range f.z.Path.Pivots[part.number].Joints {
		outside = scalar.Higher(outside, f.z.Pivots[j].ShaftMM)
	}
	return outside, share
}

func hollow[T kinematics.Scalar](outside T, bore float64) frame.Rigidity[T] {
	square := outside * outside
	shape, fourth := parts.Ring(bore, 1), bore*bore*bore*bore
	return frame.RigidityOf(parts.SteelMPa, square*kinematics.Lift[T](shape), square*square*kinematics.Lift[T](math.Pi/64*(1-fourth)))
}

// shocks adds the locked shocks, which only carry axial force, and the shafts at their eyes.
func (f *spaceFrame[T]) shocks() {
	k := f.z.Ride.Shock
	half := f.z.Across.ShockHalf(k)
	for side := range min(2, k.Count) {
		upper, held := f.eye(0, side, half)
		lower, both := f.eye(1, side, half)
		if held && both {
			f.beam(upper, lower, beamPart{kind: shockPart}, frame.Rigidity[T]{Axial: kinematics.Lift[T](parts.SteelMPa * parts.LockedMM2)})
		}
	}
}

// bush is one of a slide in a space frame: its joint, and the springs that stand for it.
type bush struct {
	joint   int
	springs [2]int
}

// slides adds the bushes of slides on both sides.
func (f *spaceFrame[T]) slides() {
	z := f.z
	for i := range z.Path.Slides {
		s := &z.Path.Slides[i]
		line := f.places[s.Through[1]].Minus(f.places[s.Mouth])
		square := line.Quarter().Times(1 / scalar.Hypot(line.Along, line.Ahead))
		for side := range f.nodes {
			for _, on := range [2][2]int{s.MouthNodes, s.EndNodes} {
				a, b := f.nodes[side][on[0]], f.nodes[side][on[1]]
				if a < 0 || side == 1 && a == f.nodes[0][on[0]] { // one tube in the middle
					continue
				}
				f.bushes = append(f.bushes, bush{s.Joint, [2]int{f.Springs(), f.Springs() + 1}})
				f.Spring(a, b, [3]T{square.Along, square.Ahead, 0}, parts.SlideBushRate)
				f.Spring(a, b, [3]T{2: 1}, parts.SlideBushRate)
			}
		}
	}
}

// eye is the node of an eye of the shock on a side. It is false where there is nothing on that side to hold it.
func (f *spaceFrame[T]) eye(end, side int, half float64) (node int, ok bool) {
	p := f.z.Path
	body, point := p.Mechanism.ShockEnd(end)
	on := p.Eyes[end]
	if on >= 0 && f.half(body, side) == half*float64(1-2*side) {
		return f.nodes[side][on], f.nodes[side][on] >= 0
	}
	node = f.node(point, half*float64(1-2*side))
	if on < 0 { // on the frame
		f.Hold(node, 6)
		return node, true
	}
	for s := range f.nodes {
		if (half == 0 || s == side) && f.nodes[s][on] >= 0 {
			part := beamPart{kind: eyeShaftPart}
			f.beam(node, f.nodes[s][on], part, hollow(f.ring(part)))
			ok = true
		}
	}
	if !ok {
		f.Hold(node, 6) // nothing is there
	}
	return node, ok
}

// OutOfPlane is the stiffness for a side force at the contact point, in N/mm, and that for a couple about the
// steering axis at the axle, in N·m per degree, at sag with the shock locked. It is false where the fork is
// loose out of the plane.
func OutOfPlane(z *Fork[float64]) (side, torsion float64, ok bool) {
	f := solved(z, loads.AtSag)
	if f == nil {
		return 0, 0, false
	}
	across := f.sideForce(1)
	d := f.Solve(map[int]frame.Load[float64]{f.hub: across})[f.hub]
	side = 1 / (d[2] + d[3]*across[3] + d[4]*across[4])
	d = f.Solve(map[int]frame.Load[float64]{f.hub: {3: 1}})[f.hub]
	return side, 1 / d[3] / 1000 * math.Pi / 180, true
}

// sideForce is a side force in N at the contact point at sag as a load on the hub.
func (f *spaceFrame[T]) sideForce(force float64) frame.Load[T] {
	sag, radius, by := &f.z.Ride.Sag, f.z.Ride.Setting.Chassis.FrontRadiusMM, kinematics.Lift[T]
	return frame.Load[T]{2: by(force), 3: by(-radius*force) * sag.CosHead, 4: by(-radius*force) * sag.SinHead}
}
