package objectives

import (
	"math"
	"slices"

	"forkfront/kinematics"
)

// zone is a minimum zone: the two parallel lines closest together that hold all points between
// them (ISO 1101, straightness of a line in a plane). Memory is reused.
type zone[T kinematics.Scalar] struct {
	order []int
	hull  []int
}

// span is what a zone comes to: width in mm and the unit direction of its lines.
type span[T kinematics.Scalar] struct {
	width T
	along kinematics.Vec[T]
}

// of finds the minimum zone of points, one a sample. One of the lines lies on an edge of the convex
// hull, so each edge is tried against its farthest point.
func (z *zone[T]) of(points []kinematics.Vec[T]) span[T] {
	z.wrap(points)
	best := span[T]{width: kinematics.Lift[T](math.Inf(1)), along: kinematics.Vec[T]{Along: 1}}
	n := len(z.hull)
	if n < 2 {
		best.width = 0
		return best
	}
	far := 1
	for i := range n {
		a, b := points[z.hull[i]], points[z.hull[(i+1)%n]]
		edge := kinematics.Vec[T]{Along: b.Along - a.Along, Ahead: b.Ahead - a.Ahead}
		length := kinematics.Sqrt(edge.Along*edge.Along + edge.Ahead*edge.Ahead)
		edge.Along, edge.Ahead = edge.Along/length, edge.Ahead/length
		off := func(k int) T {
			p := points[z.hull[k%n]]
			return edge.Along*(p.Ahead-a.Ahead) - edge.Ahead*(p.Along-a.Along)
		}
		for kinematics.Real(off(far+1)) > kinematics.Real(off(far)) {
			far++
		}
		if w := off(far); kinematics.Real(w) < kinematics.Real(best.width) {
			best = span[T]{w, edge}
		}
	}
	return best
}

// wrap finds the convex hull, anticlockwise (from along to ahead), by the monotone chain.
func (z *zone[T]) wrap(points []kinematics.Vec[T]) {
	z.order = z.order[:0]
	for i := range points {
		z.order = append(z.order, i)
	}
	slices.SortFunc(z.order, func(i, j int) int {
		p, q := points[i], points[j]
		if a, b := kinematics.Real(p.Along), kinematics.Real(q.Along); a != b {
			return compare(a, b)
		}
		return compare(kinematics.Real(p.Ahead), kinematics.Real(q.Ahead))
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
func (z *zone[T]) chain(points []kinematics.Vec[T], floor int) {
	floor = max(floor, 0)
	z.hull = z.hull[:floor]
	for _, k := range z.order {
		for len(z.hull) >= floor+2 && !left(points[z.hull[len(z.hull)-2]], points[z.hull[len(z.hull)-1]], points[k]) {
			z.hull = z.hull[:len(z.hull)-1]
		}
		z.hull = append(z.hull, k)
	}
}

func left[T kinematics.Scalar](a, b, c kinematics.Vec[T]) bool {
	return kinematics.Real((b.Along-a.Along)*(c.Ahead-a.Ahead)-(b.Ahead-a.Ahead)*(c.Along-a.Along)) > 0
}

func compare(a, b float64) int {
	if a < b {
		return -1
	}
	if a > b {
		return 1
	}
	return 0
}
