package volume

import (
	"cmp"
	"slices"

	"forkfront/optimize/dominance"
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
	front := dominance.Nondominated(inside)
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
	var below dominatedArea
	below.reset(reference[0], reference[1])
	sum := 0.0
	for i, p := range inside {
		below.add(p[0], p[1])
		top := reference[2]
		if i+1 < len(inside) {
			top = inside[i+1][2]
		}
		sum += below.area * (top - p[2])
	}
	return sum
}

// dominatedArea is the area dominated by points of the plane below a reference.
type dominatedArea struct {
	dominance.Staircase
	rx, ry float64
	area   float64
}

func (s *dominatedArea) reset(rx, ry float64) {
	s.X, s.Y, s.rx, s.ry, s.area = s.X[:0], s.Y[:0], rx, ry, 0
}

// add puts in a point; one that is dominated changes nothing.
func (s *dominatedArea) add(x, y float64) {
	from, to, covered := s.Find(x, y)
	if covered {
		return
	}
	top := s.ry
	if from > 0 {
		top = s.Y[from-1]
	}
	left := x
	for i := from; i < to; i++ {
		s.area += (s.X[i] - left) * (top - y)
		left, top = s.X[i], s.Y[i]
	}
	right := s.rx
	if to < len(s.X) {
		right = s.X[to]
	}
	s.area += (right - left) * (top - y)
	s.Replace(from, to, x, y)
}
