package sides

import (
	"cmp"
	"math"
	"slices"

	"forkfront/kinematics/scheme"
	"forkfront/objectives/structure/skyline"
)

// Mesh is one side of a fork as nodes, tubes and shafts. Symmetric loads, which are alike on both sides, leave only
// displacements out of the plane unknown. Under antisymmetric loads, which are opposite on the two sides, nothing in the
// mid-plane moves along or ahead, or rotates about the direction across. A mesh follows from the mechanism and the half
// widths of its bodies, so the forks of a search share one.
type Mesh struct {
	Opposed  bool // of antisymmetric loads
	built    key
	nodes    []node
	Number   [][6]int // of each node's unknowns; −1: held
	Tubes    []Tube
	Segments []Segment
	crossing []Crossing
	Eyes     [2]int   // nodes of the shock on this side
	Bushes   [][2]int // nodes on both tubes of each bush of a slide, in the order of the slides, their mouths first
	Shocks   int
	Pattern  skyline.Pattern
	scratch  []station // of the shaft that is being added
}

// node is where nodes are: those of the load path first, then those of shafts.
type node struct {
	point int
	half  float64
}

// Tube is a member's tube on one side.
type Tube struct {
	Member int
	Ends   [2]int     // nodes
	At     [2][21]int // of the lower triangles of its stiffness out of the plane and in it, among the stored entries; −1: held
}

// Displacements of a node: across the plane, rotations about along and ahead; along, ahead, and the rotation in the plane.
const (
	Across = iota
	AboutAlong
	AboutAhead
	Along
	Ahead
	InPlane
)

var (
	outOfPlane = []int{Across, AboutAlong, AboutAhead}
	inThePlane = []int{Along, Ahead, InPlane}
	everything = []int{Across, AboutAlong, AboutAhead, Along, Ahead, InPlane}
	allButTurn = everything[:InPlane]
	tilting    = []int{Across, Along, Ahead}
)

// Segment is a piece of a shaft between two places where something is on it.
type Segment struct {
	Ends   [2]int  // nodes, from the mid-plane outwards; MidPlane, or FreeEnd
	Inner  float64 // half width of its inner end
	Length float64
	Point  int
	Shaft  int // pivot of the load path that it belongs to; WheelAxle or EyeShaft
	Shears []Shear
	Passes int     // of the shafts that cross the mid-plane the one whose load there it carries; −1: none
	Number [12]int // of the unknowns of its two ends; −1: held, or no node
	At     [78]int // of the lower triangle of its stiffness, among the stored entries; −1: held
}

// Crossing is a shaft that crosses the mid-plane: the body that it is fixed to, on this side, and where.
type Crossing struct {
	Body, Point int
	Eye         int // of the shock; −1: another shaft
}

// What ends a segment beside nodes: the mid-plane, across which a shaft runs on to the other side, and nothing.
const (
	MidPlane = -1
	FreeEnd  = -2
)

// Shafts that belong to no pivot.
const (
	WheelAxle = -1
	EyeShaft  = -2
)

// Shear is a force that a segment carries in shear: which one, and how much of it. Forces are those of joints, on the
// shaft by the body that turns on it, then the one on the hub, then those of the shocks on their upper and lower eyes.
type Shear struct {
	Force int
	Share float64 // of the force on both sides together
}

// Build makes the mesh of a fork, reusing memory, and tells whether it had to. The unknowns are not numbered yet.
func (h *Mesh) Build(z *Fork) bool {
	if h.built.keep(z) {
		return false
	}
	p := z.Path
	h.Shocks = z.Shocks
	h.nodes, h.Number, h.Tubes, h.Segments, h.crossing = h.nodes[:0], h.Number[:0], h.Tubes[:0], h.Segments[:0], h.crossing[:0]
	for range len(p.Members) + len(p.Mechanism.Bodies) {
		h.node(node{point: -1})
	}
	for i, mb := range p.Members {
		half := z.Across.HalfWidthMM[mb.Body]
		h.nodes[p.From[i]], h.nodes[i] = node{mb.From, half}, node{mb.To, half}
		h.Tubes = append(h.Tubes, Tube{Member: i, Ends: [2]int{p.From[i], i}})
		if half == 0 {
			h.hold(p.From[i], h.central())
			h.hold(i, h.central())
		}
	}
	h.Bushes = h.Bushes[:0]
	for i := range p.Slides {
		h.Bushes = append(h.Bushes, p.Slides[i].MouthNodes, p.Slides[i].EndNodes)
	}
	for _, pair := range h.Bushes {
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

func (h *Mesh) node(n node) int {
	var own [6]int
	for i := range own {
		own[i] = 6*len(h.nodes) + i
		if i >= Along && !h.Opposed {
			own[i] = -1
		}
	}
	h.nodes, h.Number = append(h.nodes, n), append(h.Number, own)
	return len(h.nodes) - 1
}

// central are the displacements that are held in the mid-plane.
func (h *Mesh) central() []int {
	if h.Opposed {
		return inThePlane
	}
	return outOfPlane
}

func (h *Mesh) hold(node int, which []int) {
	for _, i := range which {
		h.rename(h.Number[node][i], -1)
	}
}

func (h *Mesh) tie(node, with int, which []int) {
	for _, i := range which {
		a, b := h.Number[node][i], h.Number[with][i]
		if b < 0 {
			a, b = b, a
		}
		h.rename(b, a)
	}
}

func (h *Mesh) rename(old, now int) {
	for n := range h.Number {
		for i, k := range h.Number[n] {
			if k == old && old >= 0 {
				h.Number[n][i] = now
			}
		}
	}
}

// pivot adds the shaft of a pivot.
func (h *Mesh) pivot(z *Fork, number int) {
	path := z.Path
	p := &path.Pivots[number]
	axle := path.Mechanism.Points[p.Point] == scheme.PointAxle
	owner := path.Owner(p.Point, p.Bodies, z.Across)
	crosses := axle
	h.scratch = h.scratch[:0]
	h.on(z, p.Point, owner, true)
	for k, b := range p.Bodies {
		if b != owner {
			h.on(z, p.Point, b, false)
		}
		crosses = crosses || z.Across.HalfWidthMM[b] == 0 || k < len(p.Joints) && z.Through[p.Joints[k]]
	}
	if len(p.Bodies) < 2 && !axle {
		return
	}
	shaft := WheelAxle
	if !axle {
		shaft = number
	}
	at := -1
	if crosses {
		at = h.cross(Crossing{owner, p.Point, -1})
	}
	h.chain(Segment{Point: p.Point, Shaft: shaft}, z.Across.HalfWidthMM[owner], at, func(half float64) []Shear {
		var all []Shear
		held := z.Across.HalfWidthMM[owner] > half
		for _, j := range p.Joints {
			if turns := z.Across.HalfWidthMM[z.ShaftBodies[j][1]] > half; turns != held {
				all = append(all, Shear{j, map[bool]float64{true: 0.5, false: -0.5}[turns]})
			}
		}
		if axle && held {
			all = append(all, Shear{len(path.Joints), -0.5})
		}
		return all
	})
}

// on puts a body on the current shaft: fixed to it, or turning on it.
func (h *Mesh) on(z *Fork, point, body int, fixed bool) {
	half := z.Across.HalfWidthMM[body]
	n := z.Path.Node(body, point)
	i := slices.IndexFunc(h.scratch, func(s station) bool { return s.half == half })
	switch {
	case i < 0 && fixed && n >= 0:
		h.scratch = append(h.scratch, station{half, n})
		return
	case i < 0:
		h.scratch = append(h.scratch, station{half, h.node(node{point, half})})
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
func (h *Mesh) cross(c Crossing) int {
	h.crossing = append(h.crossing, c)
	return len(h.crossing) - 1
}

// chain adds the segments between the stations of the current shaft, which is fixed to a body of a half width, and
// crosses the mid-plane as one of those recorded, or not at all: −1. The forces beyond a station are those that its
// outer segment carries.
func (h *Mesh) chain(s Segment, owner float64, crossing int, beyond func(half float64) []Shear) {
	slices.SortFunc(h.scratch, func(a, b station) int { return cmp.Compare(a.half, b.half) })
	inner := station{0, MidPlane}
	for i, at := range h.scratch {
		if at.half > 0 && (i > 0 || crossing >= 0) {
			s.Ends, s.Inner, s.Length, s.Shears, s.Passes = [2]int{inner.node, at.node}, inner.half, at.half-inner.half, beyond(inner.half), -1
			if owner > inner.half {
				s.Passes = crossing
			}
			h.Segments = append(h.Segments, s)
		}
		inner = at
	}
}

// eye adds the shaft at an eye of the shock: from side to side where one shock is in the middle, otherwise from the body
// to the shock on its side.
func (h *Mesh) eye(z *Fork, end int) {
	p := z.Path
	body, point := p.Mechanism.ShockEnd(end)
	on, half := p.Eyes[end], z.Across.HalfWidthMM[body]
	force := len(p.Joints) + 1 + end
	h.Eyes[end] = on
	switch {
	case on < 0 && h.Opposed && z.Shocks > 1:
		h.Eyes[end] = h.node(node{point, z.ShockHalf})
		h.hold(h.Eyes[end], everything)
	case on < 0 || half == z.ShockHalf:
	case h.Opposed && z.Shocks > 1:
		h.Eyes[end] = h.node(node{point, z.ShockHalf})
		ends := [2]int{on, h.Eyes[end]}
		if z.ShockHalf < half {
			ends = [2]int{h.Eyes[end], on}
		}
		h.Segments = append(h.Segments, Segment{Ends: ends, Length: math.Abs(z.ShockHalf - half), Shaft: EyeShaft, Passes: -1})
	case z.Shocks == 1:
		at := h.cross(Crossing{body, point, end})
		h.Segments = append(h.Segments, Segment{Ends: [2]int{MidPlane, on}, Length: half, Point: point, Shaft: EyeShaft, Shears: []Shear{{force, -0.5}}, Passes: at})
	case z.ShockHalf > half:
		h.Segments = append(h.Segments, Segment{Ends: [2]int{on, FreeEnd}, Length: z.ShockHalf - half, Shaft: EyeShaft, Shears: []Shear{{force, 0.5}}, Passes: -1})
	default:
		h.Segments = append(h.Segments, Segment{Ends: [2]int{FreeEnd, on}, Length: half - z.ShockHalf, Shaft: EyeShaft, Shears: []Shear{{force, -0.5}}, Passes: -1})
	}
}

func (s *Segment) Free() bool { return s.Ends[0] == FreeEnd || s.Ends[1] == FreeEnd }

// station is where along a shaft something is fixed to it or turns on it.
type station struct {
	half float64
	node int
}
