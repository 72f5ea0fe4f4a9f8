package dominance

import (
	"cmp"
	"slices"
)

// dominators holds for each of a list of points, in lexicographic order, which earlier
// ones are nowhere worse, as bit sets. It is scratch memory that one sorting leaves to the
// next.
type dominators struct {
	rows   [][]uint64 // row i has the bits 0..i, in whole words
	slab   []uint64
	passed []uint64
	order  []int
}

const word = 64

// fill goes along each objective and takes from each row those points that come later in
// it; points of equal value come at once.
func (d *dominators) fill(points [][]float64) {
	d.clear(len(points))
	for column := 1; column < len(points[0]); column++ {
		value := func(i int) float64 { return points[i][column] }
		for i := range d.order {
			d.order[i] = i
		}
		slices.SortFunc(d.order, func(a, b int) int { return cmp.Compare(value(a), value(b)) })
		clear(d.passed)
		for from, to := 0, 0; from < len(d.order); from = to {
			for to < len(d.order) && value(d.order[to]) == value(d.order[from]) {
				d.passed[d.order[to]/word] |= 1 << (d.order[to] % word)
				to++
			}
			for _, i := range d.order[from:to] {
				and(d.rows[i], d.passed)
			}
		}
	}
}

// clear sets every row to all points before it.
func (d *dominators) clear(n int) {
	words := 0
	for i := range n {
		words += i/word + 1
	}
	d.slab = slices.Grow(d.slab[:0], words)[:words]
	d.passed = slices.Grow(d.passed[:0], n/word+1)[:n/word+1]
	d.order = slices.Grow(d.order[:0], n)[:n]
	d.rows = slices.Grow(d.rows[:0], n)[:n]
	left := d.slab
	for i := range d.rows {
		size := i/word + 1
		row := left[:size:size]
		left = left[size:]
		for k := range row[:size-1] {
			row[k] = ^uint64(0)
		}
		row[size-1] = 1<<(i%word) - 1
		d.rows[i] = row
	}
}

func and(row, with []uint64) {
	with = with[:len(row)]
	for k, v := range with {
		row[k] &= v
	}
}

// bitLayers holds each layer's points as a bit set.
type bitLayers struct {
	all    *dominators
	layers [][]uint64
}

func (l *bitLayers) put(layer, point int) {
	if layer == len(l.layers) {
		l.layers = append(l.layers, make([]uint64, len(l.all.passed)))
	}
	l.layers[layer][point/word] |= 1 << (point % word)
}

func (l *bitLayers) dominated(layer, point int) bool {
	row := l.all.rows[point]
	in := l.layers[layer][:len(row)]
	for k := len(row) - 1; k >= 0; k-- { // the latest are the nearest
		if row[k]&in[k] != 0 {
			return true
		}
	}
	return false
}
