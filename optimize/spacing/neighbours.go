package spacing

import (
	"math"
	"slices"

	"forkfront/optimize/lanes"
)

// Neighbours finds the nearest of a set of points, some of which may have been dropped. It halves
// the points by their widest column down to a few a leaf, and compares packed points before it works out a distance.
type Neighbours struct {
	points  [][]float64
	dropped []bool
	lanes   lanes.Lanes
	order   []int     // points, each node's side by side, in a leaf the living ones first
	words   []uint64  // the points packed, in this order
	values  []float64 // of the points in this order, so that a leaf's are in one place
	nodes   []node
	leaf    []int    // of each point
	packed  []uint64 // each point
}

// node covers order[from:to], of which some remain, all between two packed bounds; a leaf has no children.
type node struct {
	low, high           uint64
	from, to, remaining int
	parent, left, right int
	lane                int
	cut                 uint64 // words with less in the lane are on the left
}

const leafPoints = 24

// NewNeighbours takes in points without NaN.
func NewNeighbours(points [][]float64) *Neighbours {
	if len(points) == 0 {
		return &Neighbours{}
	}
	low, high := trimmedBounds(points)
	return newNeighbours(points, low, high)
}

// newNeighbours is NewNeighbours for points of which most are within bounds.
func newNeighbours(points [][]float64, low, high []float64) *Neighbours {
	n, m := len(points), len(points[0])
	t := &Neighbours{
		points: points, dropped: make([]bool, n), order: make([]int, n), words: make([]uint64, n), leaf: make([]int, n),
		nodes: make([]node, 0, 4*n/leafPoints+1),
	}
	span := 0.0
	for j := range low {
		span = max(span, high[j]-low[j])
	}
	high = slices.Clone(low)
	for j := range high {
		high[j] += span
	}
	t.lanes.Fit(low, high)
	for i, p := range points {
		t.order[i], t.words[i] = i, t.lanes.Pack(p)
	}
	t.packed = slices.Clone(t.words)
	t.build(0, n, -1)
	t.values = make([]float64, 0, n*m)
	for _, i := range t.order {
		t.values = append(t.values, points[i]...)
	}
	return t
}

func (t *Neighbours) build(from, to, parent int) int {
	at := len(t.nodes)
	n := node{low: t.words[from], high: t.words[from], from: from, to: to, remaining: to - from, parent: parent, left: -1, right: -1}
	for _, w := range t.words[from:to] {
		t.lanes.Widen(&n.low, &n.high, w)
	}
	t.nodes = append(t.nodes, n)
	column, span := t.lanes.Widest(n.low, n.high)
	if to-from <= leafPoints || span == 0 {
		for _, i := range t.order[from:to] {
			t.leaf[i] = at
		}
		return at
	}
	mid := (from + to) / 2
	t.halve(from, to, mid, column)
	t.nodes[at].lane, t.nodes[at].cut = column, t.lanes.Lane(t.words[mid], column)
	left := t.build(from, mid, at)
	right := t.build(mid, to, at)
	t.nodes[at].left, t.nodes[at].right = left, right
	return at
}

// halve moves the lower half by a column to the front.
func (t *Neighbours) halve(from, to, mid, column int) {
	place(from, to, mid, func(k int) uint64 { return t.lanes.Lane(t.words[k], column) }, func(i, j int) {
		t.order[i], t.order[j] = t.order[j], t.order[i]
		t.words[i], t.words[j] = t.words[j], t.words[i]
	})
}

func (t *Neighbours) drop(i int) {
	t.dropped[i] = true
	n, m := &t.nodes[t.leaf[i]], len(t.points[i])
	last := n.from + n.remaining - 1
	at := n.from + slices.Index(t.order[n.from:last], i)
	if at >= n.from {
		t.order[at], t.order[last] = t.order[last], i
		t.words[at] = t.words[last]
		copy(t.values[at*m:(at+1)*m], t.values[last*m:(last+1)*m])
	}
	for k := t.leaf[i]; k >= 0; k = t.nodes[k].parent {
		t.nodes[k].remaining--
	}
}

// Nearest returns the living point nearest to point i but not i itself, and its squared
// distance; i and +Inf when there is none. Of equally near ones it is the lowest number, so
// that the answer does not depend on how the tree was cut.
func (t *Neighbours) Nearest(i int) (int, float64) {
	s := nearestSearch{Neighbours: t, target: t.points[i], word: t.packed[i], excluded: i, best: i, distance2: math.Inf(1)}
	s.low, s.high = t.lanes.Reach(s.word, math.Inf(1))
	// From its own leaf upwards: the nearest is mostly there, and then few other nodes need a look.
	at := t.leaf[i]
	s.scan(&t.nodes[at])
	for up := t.nodes[at].parent; up >= 0; at, up = up, t.nodes[up].parent {
		other := t.nodes[up].left
		if other == at {
			other = t.nodes[up].right
		}
		s.visit(other)
	}
	return s.best, s.distance2
}

// nearestTo returns the living point nearest to any place.
func (t *Neighbours) nearestTo(place []float64) int {
	s := nearestSearch{Neighbours: t, target: place, word: t.lanes.Pack(place), excluded: -1, best: -1, distance2: math.Inf(1)}
	s.low, s.high = t.lanes.Reach(s.word, math.Inf(1))
	s.visit(0)
	return s.best
}

// nearestSearch is one search for the nearest.
type nearestSearch struct {
	*Neighbours
	target         []float64
	word           uint64 // the target packed
	low, high      uint64 // nearer points lie between them
	excluded, best int
	distance2      float64
}

func (s *nearestSearch) visit(k int) {
	n := &s.nodes[k]
	if n.remaining == 0 || !s.lanes.NoneAbove(n.low, s.high) || !s.lanes.NoneAbove(s.low, n.high) {
		return
	}
	if n.left < 0 {
		s.scan(n)
		return
	}
	if s.lanes.Lane(s.word, n.lane) < n.cut { // on that side it is nearer as a rule
		s.visit(n.left)
		s.visit(n.right)
		return
	}
	s.visit(n.right)
	s.visit(n.left)
}

// scan looks at the points of a leaf.
func (s *nearestSearch) scan(n *node) {
	m, guards := len(s.target), s.lanes.Guards
	words := s.words[n.from : n.from+n.remaining]
	low, high := s.low, s.high|guards
	for k, w := range words {
		if (high-w)&(w|guards-low)&guards != guards {
			continue
		}
		at := n.from + k
		d := Distance2(s.target, s.values[at*m:(at+1)*m])
		if d > s.distance2 {
			continue
		}
		if i := s.order[at]; i != s.excluded && (d < s.distance2 || i < s.best) {
			s.best, s.distance2 = i, d
			s.low, s.high = s.lanes.Reach(s.word, math.Sqrt(d))
			low, high = s.low, s.high|guards
		}
	}
}
