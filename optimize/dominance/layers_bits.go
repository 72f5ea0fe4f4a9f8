package dominance

import (
	"slices"

	"forkfront/optimize/lanes"
)

// dominators holds for each of a list of points, in lexicographic order, which earlier
// ones are nowhere worse, as bit sets. It is scratch memory that one sorting leaves to the
// next.
type dominators struct {
	rows   [][]uint64 // row i has the bits 0..i, in whole words
	slab   []uint64
	passed []uint64
	order  []ranked
	lanes  lanes.Lanes
	words  []uint64 // the points packed
}

// ranked is a point with its value in the objective at hand.
type ranked struct {
	value float64
	at    int
}

const word = 64

// pairsMost is the number of points up to which it is faster to compare them in pairs, packed, than to sort them by each objective.
const pairsMost = 400

// fill sets the rows to the earlier points that are nowhere worse.
func (d *dominators) fill(points [][]float64) {
	d.clear(len(points))
	if len(points) <= pairsMost {
		d.pair(points)
		return
	}
	d.sweep(points)
}

// pair compares each point with those before it.
func (d *dominators) pair(points [][]float64) {
	low, high := slices.Clone(points[0]), slices.Clone(points[0])
	for _, p := range points {
		for j, v := range p {
			low[j], high[j] = min(low[j], v), max(high[j], v)
		}
	}
	d.lanes.Fit(low, high)
	d.words = d.words[:0]
	guards := d.lanes.Guards
	for i, p := range points {
		row, at := d.rows[i], d.lanes.Pack(p)
		clear(row)
		for k, w := range d.words {
			if (at|guards-w)&guards == guards && nowhereWorse(points[k], p) {
				row[k/word] |= 1 << (k % word)
			}
		}
		d.words = append(d.words, at)
	}
}

// sweep goes along each objective and takes from each row those points that come later in
// it; points of equal value come at once.
func (d *dominators) sweep(points [][]float64) {
	for column := 1; column < len(points[0]); column++ {
		for i, p := range points {
			d.order[i] = ranked{p[column], i}
		}
		slices.SortFunc(d.order, func(a, b ranked) int {
			switch {
			case a.value < b.value:
				return -1
			case a.value > b.value:
				return 1
			}
			return 0
		})
		clear(d.passed)
		for from, to := 0, 0; from < len(d.order); from = to {
			for to < len(d.order) && d.order[to].value == d.order[from].value {
				at := uint(d.order[to].at)
				d.passed[at/word] |= 1 << (at % word)
				to++
			}
			for _, r := range d.order[from:to] {
				and(d.rows[r.at], d.passed)
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
