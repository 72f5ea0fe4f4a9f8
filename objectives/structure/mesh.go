package structure

import (
	"cmp"
	"math"
	"slices"

	"forkfront/kinematics/scheme"
	"forkfront/objectives/fork"
	"forkfront/objectives/structure/loadpath"
	"forkfront/objectives/structure/parts"
	"forkfront/objectives/structure/skyline"
)

// mesh is one side of a fork as nodes, tubes and shafts. Symmetric loads, which are alike on both sides, leave only
// displacements out of the plane unknown. Under antisymmetric loads, which are opposite on the two sides, nothing in the
// mid-plane moves along or ahead, or rotates about the direction across. A mesh follows from the mechanism and the half
// widths of its bodies, so the forks of a search share one.
type mesh struct {
	opposed  bool
	built    meshKey
	nodes    []meshNode
	number   [][6]int // of each node's unknowns; −1: held
	tubes    []meshTube
	segments []segment
	crossing []crossing
	eyes     [2]int   // nodes of the shock on this side
	bushes   [][2]int // nodes on both tubes of each bush of a slide, in the order of the slides, their mouths first
	shocks   int
	pattern  skyline.Pattern
	scratch  []station
}

// meshKey is what determines a mesh.
type meshKey struct {
	path    *loadpath.Path
	half    []float64
	oneSide []bool
	through []bool // by joint
	shock   float64
	shocks  int
	tilt    string
}

// meshNode is where nodes are: those of the load path first, then those of shafts.
type meshNode struct {
	point int
	half  float64
}

// meshTube is a member's tube on one side.
type meshTube struct {
	member int
	ends   [2]int
	at     [2][21]int // of the lower triangles of its stiffness out of the plane and in it, among the stored entries; −1: held
}

// Displacements of a node: across the plane, rotations about along and ahead; along, ahead, and the rotation in the plane.
const (
	across = iota
	aboutAlong
	aboutAhead
	along
	ahead
	inPlane
)

var (
	outOfPlane = []int{across, aboutAlong, aboutAhead}
	inThePlane = []int{along, ahead, inPlane}
	everything = []int{across, aboutAlong, aboutAhead, along, ahead, inPlane}
	allButTurn = everything[:inPlane]
	tilting    = []int{across, along, ahead}
)

// segment is a piece of a shaft between two places where something is on it.
type segment struct {
	ends   [2]int  // nodes, from the mid-plane outwards; midPlane, or freeEnd
	inner  float64 // half width of its inner end
	length float64
	point  int
	shaft  int // pivot of the load path that it belongs to; wheelAxle or eyeShaft
	shears []shear
	passes int     // of the shafts that cross the mid-plane the one whose load there it carries; −1: none
	number [12]int // of the unknowns of its two ends; −1: held, or no node
	at     [78]int // of the lower triangle of its stiffness, among the stored entries; −1: held
}

// crossing is a shaft that crosses the mid-plane: the body that it is fixed to, on this side, and where.
type crossing struct {
	body, point int
	eye         int // of the shock; −1: another shaft
}

// What ends a segment beside nodes: the mid-plane, across which a shaft runs on to the other side, and nothing.
const (
	midPlane = -1
	freeEnd  = -2
)

// Shafts that belong to no pivot.
const (
	wheelAxle = -1
	eyeShaft  = -2
)

// shear is a force that a segment carries in shear: which one, and how much of it. Forces are those of joints, on the
// shaft by the body that turns on it, then the one on the hub, then those of the shocks on their upper and lower eyes.
type shear struct {
	force int
	share float64
}

// fits tells whether a mesh is that of a fork.
func (k *meshKey) fits(z *meshOf) bool {
	return k.path == z.path && k.tilt == z.tilt && k.shocks == z.shocks && k.shock == z.shockHalf &&
		slices.Equal(k.half, z.across.HalfWidthMM) && slices.Equal(k.oneSide, z.across.OneSide) && slices.Equal(k.through, z.through)
}

// keep tells whether a mesh still fits a fork, and if not records what the new one is determined by.
func (k *meshKey) keep(z *meshOf) bool {
	if k.fits(z) {
		return true
	}
	k.path, k.tilt, k.shocks, k.shock = z.path, z.tilt, z.shocks, z.shockHalf
	k.half = append(k.half[:0], z.across.HalfWidthMM...)
	k.oneSide = append(k.oneSide[:0], z.across.OneSide...)
	k.through = append(k.through[:0], z.through...)
	return false
}

// meshOf is the fork that a mesh is made for.
type meshOf struct {
	path        *loadpath.Path
	across      *fork.Across
	shaftBodies [][2]int
	through     []bool // by joint: the shaft runs from side to side
	shocks      int
	shockHalf   float64
	tilt        string
}

// build makes the mesh of a fork, reusing memory, and tells whether it had to. The unknowns are not numbered yet.
func (h *mesh) build(z *meshOf) bool {
	if h.built.keep(z) {
		return false
	}
	p := z.path
	h.shocks = z.shocks
	h.nodes, h.number, h.tubes, h.segments, h.crossing = h.nodes[:0], h.number[:0], h.tubes[:0], h.segments[:0], h.crossing[:0]
	for range len(p.Members) + len(p.Mechanism.Bodies) {
		h.node(meshNode{point: -1})
	}
	for i, mb := range p.Members {
		half := z.across.HalfWidthMM[mb.Body]
		h.nodes[p.From[i]], h.nodes[i] = meshNode{mb.From, half}, meshNode{mb.To, half}
		h.tubes = append(h.tubes, meshTube{member: i, ends: [2]int{p.From[i], i}})
		if half == 0 {
			h.hold(p.From[i], h.central())
			h.hold(i, h.central())
		}
	}
	h.bushes = h.bushes[:0]
	for i := range p.Slides {
		h.bushes = append(h.bushes, p.Slides[i].MouthNodes, p.Slides[i].EndNodes)
	}
	for _, pair := range h.bushes {
		h.tie(pair[0], pair[1], outOfPlane[:1])
	}
	h.hold(len(p.Members)+p.Mechanism.Ground(), everything)
	for i := range p.Pivots {
		h.pivot(z, i)
	}
	for end := range p.Eyes {
		h.eye(z, end)
	}
	return true
}

func (h *mesh) node(n meshNode) int {
	var own [6]int
	for i := range own {
		own[i] = 6*len(h.nodes) + i
		if i >= along && !h.opposed {
			own[i] = -1
		}
	}
	h.nodes, h.number = append(h.nodes, n), append(h.number, own)
	return len(h.nodes) - 1
}

// central are the displacements that are held in the mid-plane.
func (h *mesh) central() []int {
	if h.opposed {
		return inThePlane
	}
	return outOfPlane
}

func (h *mesh) hold(node int, which []int) {
	for _, i := range which {
		h.rename(h.number[node][i], -1)
	}
}

func (h *mesh) tie(node, with int, which []int) {
	for _, i := range which {
		a, b := h.number[node][i], h.number[with][i]
		if b < 0 {
			a, b = b, a
		}
		h.rename(b, a)
	}
}

func (h *mesh) rename(old, now int) {
	for n := range h.number {
		for i, k := range h.number[n] {
			if k == old && old >= 0 {
				h.number[n][i] = now
			}
		}
	}
}

// passed are the displacements that a shaft shares with a body that turns on it.
func (z *meshOf) passed() []int {
	if z.tilt == parts.TiltFree {
		return tilting
	}
	return allButTurn
}

// pivot adds the shaft of a pivot.
func (h *mesh) pivot(z *meshOf, number int) {
	path := z.path
	p := &path.Pivots[number]
	axle := path.Mechanism.Points[p.Point] == scheme.PointAxle
	owner := path.Owner(p.Point, p.Bodies, z.across)
	crosses := axle
	h.scratch = h.scratch[:0]
	h.on(z, p.Point, owner, true)
	for k, b := range p.Bodies {
		if b != owner {
			h.on(z, p.Point, b, false)
		}
		crosses = crosses || z.across.HalfWidthMM[b] == 0 || k < len(p.Joints) && z.through[p.Joints[k]]
	}
	if len(p.Bodies) < 2 && !axle {
		return
	}
	shaft := wheelAxle
	if !axle {
		shaft = number
	}
	at := -1
	if crosses {
		at = h.cross(crossing{owner, p.Point, -1})
	}
	h.chain(segment{point: p.Point, shaft: shaft}, z.across.HalfWidthMM[owner], at, func(half float64) []shear {
		var all []shear
		held := z.across.HalfWidthMM[owner] > half
		for _, j := range p.Joints {
			if turns := z.across.HalfWidthMM[z.shaftBodies[j][1]] > half; turns != held {
				all = append(all, shear{j, map[bool]float64{true: 0.5, false: -0.5}[turns]})
			}
		}
		if axle && held {
			all = append(all, shear{len(path.Joints), -0.5})
		}
		return all
	})
}

// on puts a body on the current shaft: fixed to it, or turning on it.
func (h *mesh) on(z *meshOf, point, body int, fixed bool) {
	half := z.across.HalfWidthMM[body]
	n := z.path.Node(body, point)
	i := slices.IndexFunc(h.scratch, func(s station) bool { return s.half == half })
	switch {
	case i < 0 && fixed && n >= 0:
		h.scratch = append(h.scratch, station{half, n})
		return
	case i < 0:
		h.scratch = append(h.scratch, station{half, h.node(meshNode{point, half})})
		i = len(h.scratch) - 1
		if half == 0 {
			h.hold(h.scratch[i].node, h.central())
		}
	}
	switch {
	case n >= 0:
		h.tie(n, h.scratch[i].node, z.passed())
	case fixed: // on the frame
		h.hold(h.scratch[i].node, everything)
	default:
		h.hold(h.scratch[i].node, z.passed())
	}
}

// cross records a shaft that crosses the mid-plane.
func (h *mesh) cross(c crossing) int {
	h.crossing = append(h.crossing, c)
	return len(h.crossing) - 1
}

// chain adds the segments between the stations of the current shaft, which is fixed to a body of a half width, and
// crosses the mid-plane as one of those recorded, or not at all: −1. The forces beyond a station are those that its
// outer segment carries.
func (h *mesh) chain(s segment, owner float64, crossing int, beyond func(half float64) []shear) {
	slices.SortFunc(h.scratch, func(a, b station) int { return cmp.Compare(a.half, b.half) })
	inner := station{0, midPlane}
	for i, at := range h.scratch {
		if at.half > 0 && (i > 0 || crossing >= 0) {
			s.ends, s.inner, s.length, s.shears, s.passes = [2]int{inner.node, at.node}, inner.half, at.half-inner.half, beyond(inner.half), -1
			if owner > inner.half {
				s.passes = crossing
			}
			h.segments = append(h.segments, s)
		}
		inner = at
	}
}

// eye adds the shaft at an eye of the shock: from side to side where one shock is in the middle, otherwise from the body
// to the shock on its side.
func (h *mesh) eye(z *meshOf, end int) {
	p := z.path
	body, point := p.Mechanism.ShockEnd(end)
	on, half := p.Eyes[end], z.across.HalfWidthMM[body]
	force := len(p.Joints) + 1 + end
	h.eyes[end] = on
	switch {
	case on < 0 && h.opposed && z.shocks > 1:
		h.eyes[end] = h.node(meshNode{point, z.shockHalf})
		h.hold(h.eyes[end], everything)
	case on < 0 || half == z.shockHalf:
	case h.opposed && z.shocks > 1:
		h.eyes[end] = h.node(meshNode{point, z.shockHalf})
		ends := [2]int{on, h.eyes[end]}
		if z.shockHalf < half {
			ends = [2]int{h.eyes[end], on}
		}
		h.segments = append(h.segments, segment{ends: ends, length: math.Abs(z.shockHalf - half), shaft: eyeShaft, passes: -1})
	case z.shocks == 1:
		at := h.cross(crossing{body, point, end})
		h.segments = append(h.segments, segment{ends: [2]int{midPlane, on}, length: half, point: point, shaft: eyeShaft, shears: []shear{{force, -0.5}}, passes: at})
	case z.shockHalf > half:
		h.segments = append(h.segments, segment{ends: [2]int{on, freeEnd}, length: z.shockHalf - half, shaft: eyeShaft, shears: []shear{{force, 0.5}}, passes: -1})
	default:
		h.segments = append(h.segments, segment{ends: [2]int{freeEnd, on}, length: half - z.shockHalf, shaft: eyeShaft, shears: []shear{{force, -0.5}}, passes: -1})
	}
}
