package optimize

import (
	"cmp"
	"slices"
)

// Hypervolume returns the exact volume that points, all minimised and as wide as
// reference, dominate below reference. Points need not be non-dominated and keep their
// order; those beyond the reference in any column count for nothing.
//
// Two and three columns go by sweep; more by the walking-fish-group recursion (While,
// Bradstreet, Barone, IEEE Trans. Evol. Comput. 16, 2012; from memory), which takes the
// exclusive volume of each point against those after it.
func Hypervolume(points [][]float64, reference []float64) float64 {
	inside := make([][]float64, 0, len(points))
	for _, p := range points {
		if within(p, reference) {
			inside = append(inside, p)
		}
	}
	return volume(inside, reference)
}

func within(p, reference []float64) bool {
	for i, v := range p {
		if !(v < reference[i]) {
			return false
		}
	}
	return true
}

// volume is Hypervolume of points that are all inside; it changes their order.
func volume(inside [][]float64, reference []float64) float64 {
	switch len(reference) {
	case 1:
		return volume1(inside, reference[0])
	case 2:
		return volume2(inside, reference)
	case 3:
		return volume3(inside, reference)
	}
	front := nondominated(inside)
	last := len(reference) - 1
	slices.SortFunc(front, func(a, b []float64) int { return cmp.Compare(b[last], a[last]) })
	sum := 0.0
	for i, p := range front {
		sum += exclusive(p, front[i+1:], reference)
	}
	return sum
}

// exclusive is the volume of p's box less what the others, all no worse than p in the last
// column, take of it. What they take has p's own height there, so it is one dimension less.
func exclusive(p []float64, others [][]float64, reference []float64) float64 {
	last := len(p) - 1
	base := 1.0
	for i := range last {
		base *= reference[i] - p[i]
	}
	clipped := make([][]float64, len(others))
	slab := make([]float64, len(others)*last)
	for k, q := range others {
		c := slab[k*last : (k+1)*last : (k+1)*last]
		for i := range last {
			c[i] = max(p[i], q[i])
		}
		clipped[k] = c
	}
	return (reference[last] - p[last]) * (base - volume(clipped, reference[:last]))
}

// nondominated returns the points that no other dominates, one of each equal set.
func nondominated(points [][]float64) [][]float64 {
	var front [][]float64
next:
	for _, p := range points {
		kept := 0
		for i, q := range front {
			switch relation(p, q) {
			case worse, equal:
				continue next
			case neither:
				front[kept] = front[i]
				kept++
			}
		}
		front = append(front[:kept], p)
	}
	return front
}

func volume1(inside [][]float64, reference float64) float64 {
	best := reference
	for _, p := range inside {
		best = min(best, p[0])
	}
	return reference - best
}

func volume2(inside [][]float64, reference []float64) float64 {
	slices.SortFunc(inside, func(a, b []float64) int { return cmp.Compare(a[0], b[0]) })
	sum, top := 0.0, reference[1]
	for _, p := range inside {
		if p[1] < top {
			sum += (reference[0] - p[0]) * (top - p[1])
			top = p[1]
		}
	}
	return sum
}

// volume3 sweeps the third column upwards and keeps the area dominated so far as a
// staircase in the first two.
func volume3(inside [][]float64, reference []float64) float64 {
	slices.SortFunc(inside, func(a, b []float64) int { return cmp.Compare(a[2], b[2]) })
	var stairs staircase
	stairs.reset(reference[0], reference[1])
	sum := 0.0
	for i, p := range inside {
		stairs.add(p[0], p[1])
		top := reference[2]
		if i+1 < len(inside) {
			top = inside[i+1][2]
		}
		sum += stairs.area * (top - p[2])
	}
	return sum
}

// staircase is the area dominated by points of the plane below a reference.
type staircase struct {
	x, y   []float64 // x ascending, y descending
	rx, ry float64
	area   float64
}

func (s *staircase) reset(rx, ry float64) {
	s.x, s.y, s.rx, s.ry, s.area = s.x[:0], s.y[:0], rx, ry, 0
}

// add puts in a point; one that is dominated changes nothing.
func (s *staircase) add(x, y float64) {
	at, _ := slices.BinarySearch(s.x, x)
	if at > 0 && s.y[at-1] <= y || at < len(s.x) && s.x[at] == x && s.y[at] <= y {
		return
	}
	top := s.ry
	if at > 0 {
		top = s.y[at-1]
	}
	end, left := at, x
	for end < len(s.x) && s.y[end] >= y {
		s.area += (s.x[end] - left) * (top - y)
		left, top = s.x[end], s.y[end]
		end++
	}
	right := s.rx
	if end < len(s.x) {
		right = s.x[end]
	}
	s.area += (right - left) * (top - y)
	if end > at {
		s.x[at], s.y[at] = x, y
		s.x, s.y = slices.Delete(s.x, at+1, end), slices.Delete(s.y, at+1, end)
		return
	}
	s.x, s.y = slices.Insert(s.x, at, x), slices.Insert(s.y, at, y)
}
