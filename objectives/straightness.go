package objectives

import (
	"cmp"
	"math"
	"slices"

	"forkfront/kinematics"
)

// zone is a minimum zone: the two parallel lines closest together that hold all points between
// them (ISO 1101, straightness of a line in a plane). Memory is reused.
type zone struct {
	points []kinematics.Vec[float64]
	order  []int
	hull   []int
	edge   [2]int // the points that one line passes through
	far    int    // and the one that the other passes through
}

// find looks for the minimum zone. One of its lines lies on an edge of the convex hull, so each edge
// is tried against its farthest point. Widths are compared by their squares, with the edges' lengths
// multiplied over.
func (z *zone) find() {
	z.wrap(z.points)
	n := len(z.hull)
	best, length := math.Inf(1), 1.0
	z.edge, z.far = [2]int{0, len(z.points) - 1}, 0
	if n < 2 {
		return
	}
	far := 1 % n
	for i, from := range z.hull {
		to := z.hull[next(i, n)]
		a, b := z.points[from], z.points[to]
		off := offLine(a, b, z.points[z.hull[far]])
		for {
			k := next(far, n)
			further := offLine(a, b, z.points[z.hull[k]])
			if !(further > off) {
				break
			}
			far, off = k, further
		}
		dx, dy := b.Along-a.Along, b.Ahead-a.Ahead
		if square := dx*dx + dy*dy; off*off*length < best*square {
			best, length = off*off, square
			z.edge, z.far = [2]int{from, to}, z.hull[far]
		}
	}
}

// next is the corner of a hull of n after corner i.
func next(i, n int) int {
	if i++; i == n {
		return 0
	}
	return i
}

// offLine is how far p lies to the left of the line from a to b, times the distance of the two.
func offLine[T kinematics.Scalar](a, b, p kinematics.Vec[T]) T {
	return (b.Along-a.Along)*(p.Ahead-a.Ahead) - (b.Ahead-a.Ahead)*(p.Along-a.Along)
}

// straightest finds the minimum zone of a fork's axle path.
func straightest(s *Subject[float64]) {
	s.zone.points = s.zone.points[:0]
	for i := range s.States {
		s.zone.points = append(s.zone.points, kinematics.Vec[float64]{Along: s.States[i].Along, Ahead: s.States[i].Ahead})
	}
	s.zone.find()
}

// axle is where the axle is at a sample.
func (s *Subject[T]) axle(i int) kinematics.Vec[T] {
	st := s.at(i)
	return kinematics.Vec[T]{Along: st.Along, Ahead: st.Ahead}
}

// wrap finds the convex hull, anticlockwise (from along to ahead), by the monotone chain.
func (z *zone) wrap(points []kinematics.Vec[float64]) {
	z.order = z.order[:0]
	for i := len(points) - 1; i >= 0; i-- { // along falls as the fork travels
		z.order = append(z.order, i)
	}
	if !z.ordered(points) {
		slices.SortFunc(z.order, func(i, j int) int { return before(points[i], points[j]) })
	}
	z.hull = z.hull[:0]
	z.chain(points, 0)
	slices.Reverse(z.order)
	z.chain(points, len(z.hull)-1)
	if len(z.hull) > 1 {
		z.hull = z.hull[:len(z.hull)-1]
	}
}

// before orders points by along, and then by ahead.
func before(p, q kinematics.Vec[float64]) int {
	return cmp.Or(cmp.Compare(p.Along, q.Along), cmp.Compare(p.Ahead, q.Ahead))
}

// ordered tells whether along rises from each point to the next.
func (z *zone) ordered(points []kinematics.Vec[float64]) bool {
	for i := 1; i < len(z.order); i++ {
		if !(points[z.order[i-1]].Along < points[z.order[i]].Along) {
			return false
		}
	}
	return true
}

// chain adds one half of the hull, above the first floor entries that stay.
func (z *zone) chain(points []kinematics.Vec[float64], floor int) {
	floor = max(floor, 0)
	z.hull = z.hull[:floor]
	for _, k := range z.order {
		for len(z.hull) >= floor+2 && !(offLine(points[z.hull[len(z.hull)-2]], points[z.hull[len(z.hull)-1]], points[k]) > 0) {
			z.hull = z.hull[:len(z.hull)-1]
		}
		z.hull = append(z.hull, k)
	}
}
