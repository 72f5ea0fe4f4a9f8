package ride

import (
	"cmp"
	"math"
	"slices"

	"forkfront/kinematics"
)

// zone is a minimum zone: the two closest parallel lines with all points between
// them (ISO 1101, straightness of a line in a plane). Its slices are reused.
type zone struct {
	points []corner // in any order; sorted by along they need no sorting
	hull   []corner
	edge   [2]int // the points that one line passes through
	far    int    // the point that the other line passes through
}

// corner is a point with its number.
type corner struct {
	at    kinematics.Vec[float64]
	point int
}

// find looks for the minimum zone. One of its lines lies on an edge of the convex hull, so each edge
// is tried against its farthest point. Widths are compared by their squares, with the edges' lengths
// multiplied over.
func (z *zone) find() {
	z.wrap()
	hull := z.hull
	best, length := math.Inf(1), 1.0
	z.edge, z.far = [2]int{0, len(z.points) - 1}, 0
	if len(hull) < 2 {
		return
	}
	far, a := 0, &hull[len(hull)-1]
	for i := range hull {
		b := &hull[i]
		dx, dy := b.at.Along-a.at.Along, b.at.Ahead-a.at.Ahead
		at := &hull[far].at
		off := dx*(at.Ahead-a.at.Ahead) - dy*(at.Along-a.at.Along) // offLine
		for range hull {
			k := far + 1
			if k == len(hull) {
				k = 0
			}
			at = &hull[k].at
			further := dx*(at.Ahead-a.at.Ahead) - dy*(at.Along-a.at.Along)
			// A corner on the line itself is not the farthest, even if by rounding the next one lies behind the line.
			if !(further > off) && off > 0 {
				break
			}
			far, off = k, further
		}
		if square := dx*dx + dy*dy; off*off*length < best*square {
			best, length = off*off, square
			z.edge, z.far = [2]int{a.point, b.point}, hull[far].point
		}
		a = b
	}
}

// offLine is how far p lies to the left of the line from a to b, times the distance of the two.
func offLine[T kinematics.Scalar](a, b, p kinematics.Vec[T]) T {
	return (b.Along-a.Along)*(p.Ahead-a.Ahead) - (b.Ahead-a.Ahead)*(p.Along-a.Along)
}

// straightest finds the minimum zone of a fork's axle path.
func straightest(s *Ride[float64]) {
	z := &s.zone
	if len(z.points) != len(s.States) {
		z.points = make([]corner, len(s.States))
	}
	last := len(s.States) - 1
	for i := range s.States { // along decreases with travel
		p := &z.points[last-i]
		p.at.Along, p.at.Ahead, p.point = s.States[i].Along, s.States[i].Ahead, i
	}
	z.find()
}

// axle is where the axle is at a sample.
func (s *Ride[T]) axle(i int) kinematics.Vec[T] {
	st := s.At(i)
	return kinematics.Vec[T]{Along: st.Along, Ahead: st.Ahead}
}

// wrap finds the convex hull, anticlockwise (from along to ahead), by the monotone chain.
func (z *zone) wrap() {
	if !z.ordered() {
		slices.SortFunc(z.points, func(p, q corner) int {
			return cmp.Or(cmp.Compare(p.at.Along, q.at.Along), cmp.Compare(p.at.Ahead, q.at.Ahead), cmp.Compare(p.point, q.point))
		})
	}
	if cap(z.hull) < 2*len(z.points) {
		z.hull = make([]corner, 0, 2*len(z.points))
	}
	n := z.chain(0, 0, len(z.points), 1)
	n = z.chain(max(n-1, 0), len(z.points)-1, -1, -1)
	z.hull = z.hull[:max(n-1, min(n, 1))]
}

// ordered reports whether along increases from each point to the next.
func (z *zone) ordered() bool {
	last := math.Inf(-1)
	for i := range z.points {
		along := z.points[i].at.Along
		if !(along > last) {
			return false
		}
		last = along
	}
	return true
}

// chain adds one half of the hull after the first floor corners, which stay, and returns how many corners there are.
func (z *zone) chain(floor, from, to, by int) int {
	hull, n := z.hull[:cap(z.hull)], floor
	for k := from; k != to; k += by {
		c := &z.points[k]
		for n >= floor+2 && !(offLine(hull[n-2].at, hull[n-1].at, c.at) > 0) {
			n--
		}
		hull[n].at.Along, hull[n].at.Ahead, hull[n].point = c.at.Along, c.at.Ahead, c.point
		n++
	}
	return n
}
