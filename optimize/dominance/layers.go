package dominance

import (
	"cmp"
	"slices"
	"sort"
)

// Sorter sorts points into layers. It owns nothing but scratch memory.
type Sorter struct {
	bits   dominators
	order  []int
	sorted [][]float64
	layer  []int
}

// Layers returns the indices of the points of each layer: the first holds the nondominated points, the
// second those that only the first dominates, and so on, each in lexicographic order.
//
// It goes through the points in that order, so that none can be dominated by a later one, and
// finds each one's layer by binary search over the layers (Zhang, Tian, Cheng, Jin, IEEE Trans.
// Evol. Comput. 19, 2015; from memory). Equal points, which are adjacent, share a layer.
func (s *Sorter) Layers(points [][]float64) [][]int {
	order := slices.Grow(s.order[:0], len(points))
	for i := range points {
		order = append(order, i)
	}
	slices.SortFunc(order, func(i, j int) int {
		if a, b := points[i][0], points[j][0]; a != b {
			return cmp.Compare(a, b)
		}
		return cmp.Or(slices.Compare(points[i], points[j]), cmp.Compare(i, j))
	})
	sorted := slices.Grow(s.sorted[:0], len(points))
	for _, i := range order {
		sorted = append(sorted, points[i])
	}
	layer := s.layer[:0]
	at, layers, known := 0, 0, s.layering(sorted)
	for i, p := range sorted {
		if i == 0 || !slices.Equal(p, sorted[i-1]) {
			at = sort.Search(layers, func(k int) bool { return !known.dominated(k, i) })
			known.put(at, i)
		}
		layer, layers = append(layer, at), max(layers, at+1)
	}
	s.order, s.sorted, s.layer = order, sorted, layer
	return gather(order, layer, layers)
}

// gather puts the indices that are in each layer together, in their order.
func gather(indices, layer []int, layers int) [][]int {
	all, slab := make([][]int, layers), make([]int, len(indices))
	sizes := make([]int, layers)
	for _, at := range layer {
		sizes[at]++
	}
	for at, size := range sizes {
		all[at], slab = slab[:0:size], slab[size:]
	}
	for k, at := range layer {
		all[at] = append(all[at], indices[k])
	}
	return all
}

// layering remembers which points are in which layer. Points are put in lexicographic
// order, of equal ones only the first.
type layering interface {
	dominated(layer, point int) bool // whether one of the layer dominates the point
	put(layer, point int)            // layer is at most one more than those there are
}

// bitSetLimit is the number of points up to which their dominators are held as bit
// sets: 25 MB then.
const bitSetLimit = 20000

func (s *Sorter) layering(points [][]float64) layering {
	switch {
	case len(points) == 0 || len(points[0]) == 3:
		return &stairLayers{points: points}
	case len(points[0]) > 3 && len(points) <= bitSetLimit:
		s.bits.fill(points)
		return &bitLayers{all: &s.bits}
	}
	return &listLayers{points: points}
}

// listLayers holds the points of each layer and looks through them, the latest first: they
// are the nearest. With two objectives the latest has the layer's least second one, which
// suffices.
type listLayers struct {
	points [][]float64
	layers [][]int
}

func (l *listLayers) put(layer, point int) {
	if layer == len(l.layers) {
		l.layers = append(l.layers, nil)
	}
	l.layers[layer] = append(l.layers[layer], point)
}

func (l *listLayers) dominated(layer, point int) bool {
	f, in := l.points[point], l.layers[layer]
	last := 0
	if len(f) <= 2 {
		last = len(in) - 1
	}
	for i := len(in) - 1; i >= last; i-- {
		if Dominates(l.points[in[i]], f) {
			return true
		}
	}
	return false
}
