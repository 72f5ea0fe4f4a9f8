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
// is tried against its farthest point.
func (z *zone) find() {
	z.wrap(z.points)
	n := len(z.hull)
	best := math.Inf(1)
	z.edge, z.far = [2]int{0, len(z.points) - 1}, 0
	far := 1
	for i := range n {
		a, b := z.hull[i], z.hull[(i+1)%n]
		off := func(k int) float64 { return offLine(z.points[a], z.points[b], z.points[z.hull[k%n]]) }
		for off(far+1) > off(far) {
			far++
		}
		if w := off(far) / kinematics.Distance(z.points[a], z.points[b]); w < best {
			best, z.edge, z.far = w, [2]int{a, b}, z.hull[far%n]
		}
	}
}

// offLine is how far p lies to the left of the line from a to b, times the distance of the two.
func offLine[T kinematics.Scalar](a, b, p kinematics.Vec[T]) T {
	return (b.Along-a.Along)*(p.Ahead-a.Ahead) - (b.Ahead-a.Ahead)*(p.Along-a.Along)
}

// straightest finds the minimum zone of a fork's axle path.
func straightest[T kinematics.Scalar](s *Subject[T]) {
	s.zone.points = s.zone.points[:0]
	for i := range s.States {
		s.zone.points = append(s.zone.points, kinematics.Vec[float64]{
			Along: kinematics.Real(s.States[i].Along), Ahead: kinematics.Real(s.States[i].Ahead),
		})
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
	for i := range points {
		z.order = append(z.order, i)
	}
	slices.SortFunc(z.order, func(i, j int) int {
		p, q := points[i], points[j]
		return cmp.Or(cmp.Compare(p.Along, q.Along), cmp.Compare(p.Ahead, q.Ahead))
	})
	z.hull = z.hull[:0]
	z.chain(points, 0)
	slices.Reverse(z.order)
	z.chain(points, len(z.hull)-1)
	if len(z.hull) > 1 {
		z.hull = z.hull[:len(z.hull)-1]
	}
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
