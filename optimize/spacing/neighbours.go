package spacing

import (
	"math"
	"slices"
)

// Neighbours finds the nearest of a set of points, some of which may have been dropped. It halves
// the points by their widest column down to a few a leaf.
type Neighbours struct {
	points  [][]float64
	dropped []bool
	order   []int     // points, each node's side by side, in a leaf the living ones first
	values  []float64 // of the points in this order, so that a leaf's are in one place
	nodes   []node
	boxes   []float64 // around each node's points: the low values, then the high ones
	leaf    []int     // of each point
}

// node covers order[from:to], of which some remain; a leaf has no children.
type node struct {
	from, to, remaining int
	parent, left, right int
}

const leafPoints = 24

func NewNeighbours(points [][]float64) *Neighbours {
	t := &Neighbours{points: points, dropped: make([]bool, len(points)), order: make([]int, len(points)), leaf: make([]int, len(points))}
	for i := range points {
		t.order[i] = i
	}
	if len(points) > 0 {
		t.build(0, len(points), -1)
		t.values = make([]float64, 0, len(points)*len(points[0]))
	}
	for _, i := range t.order {
		t.values = append(t.values, points[i]...)
	}
	return t
}

func (t *Neighbours) build(from, to, parent int) int {
	at := len(t.nodes)
	low, high := t.box(from, to)
	t.nodes = append(t.nodes, node{from: from, to: to, remaining: to - from, parent: parent, left: -1, right: -1})
	column := 0
	for j := range low {
		if high[j]-low[j] > high[column]-low[column] {
			column = j
		}
	}
	if to-from <= leafPoints || high[column] == low[column] {
		for _, i := range t.order[from:to] {
			t.leaf[i] = at
		}
		return at
	}
	mid := (from + to) / 2
	t.halve(from, to, mid, column)
	left := t.build(from, mid, at)
	right := t.build(mid, to, at)
	t.nodes[at].left, t.nodes[at].right = left, right
	return at
}

// box adds the box around some points and returns it, valid until the next one is added.
func (t *Neighbours) box(from, to int) (low, high []float64) {
	m := len(t.points[0])
	first := t.points[t.order[from]]
	t.boxes = append(append(t.boxes, first...), first...)
	both := t.boxes[len(t.boxes)-2*m:]
	low, high = both[:m], both[m:]
	for _, i := range t.order[from:to] {
		for j, v := range t.points[i] {
			if v < low[j] {
				low[j] = v
			}
			if v > high[j] {
				high[j] = v
			}
		}
	}
	return low, high
}

// halve moves the lower half by a column to the front (Hoare's selection).
func (t *Neighbours) halve(from, to, mid, column int) {
	key := func(k int) float64 { return t.points[t.order[k]][column] }
	for to-from > 1 {
		pivot := key((from + to) / 2)
		i, j := from, to-1
		for i <= j {
			for key(i) < pivot {
				i++
			}
			for key(j) > pivot {
				j--
			}
			if i <= j {
				t.order[i], t.order[j] = t.order[j], t.order[i]
				i++
				j--
			}
		}
		switch {
		case mid <= j:
			to = j + 1
		case mid >= i:
			from = i
		default:
			return
		}
	}
}

func (t *Neighbours) drop(i int) {
	t.dropped[i] = true
	n, m := &t.nodes[t.leaf[i]], len(t.points[i])
	last := n.from + n.remaining - 1
	at := n.from + slices.Index(t.order[n.from:last], i)
	if at >= n.from {
		t.order[at], t.order[last] = t.order[last], i
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
	s := nearestSearch{t, t.points[i], i, i, math.Inf(1)}
	// From its own leaf upwards: the nearest is mostly there, and then few other boxes need a look.
	at := t.leaf[i]
	s.scan(&t.nodes[at])
	for up := t.nodes[at].parent; up >= 0; at, up = up, t.nodes[up].parent {
		other := t.nodes[up].left
		if other == at {
			other = t.nodes[up].right
		}
		if t.nodes[other].remaining > 0 {
			s.visit(other, s.boxDistance2(other))
		}
	}
	return s.best, s.distance2
}

// nearestTo returns the living point nearest to any place.
func (t *Neighbours) nearestTo(place []float64) int {
	s := nearestSearch{t, place, -1, -1, math.Inf(1)}
	s.visit(0, 0)
	return s.best
}

// nearestSearch is one search for the nearest.
type nearestSearch struct {
	*Neighbours
	target         []float64
	excluded, best int
	distance2      float64
}

func (s *nearestSearch) visit(k int, away float64) {
	n := &s.nodes[k]
	if n.remaining == 0 || away > s.distance2 {
		return
	}
	if n.left < 0 {
		s.scan(n)
		return
	}
	left, right := s.boxDistance2(n.left), s.boxDistance2(n.right)
	if right < left {
		s.visit(n.right, right)
		s.visit(n.left, left)
		return
	}
	s.visit(n.left, left)
	s.visit(n.right, right)
}

// scan looks at the points of a leaf.
func (s *nearestSearch) scan(n *node) {
	m := len(s.target)
	for k := n.from; k < n.from+n.remaining; k++ {
		i := s.order[k]
		if i == s.excluded {
			continue
		}
		d := Distance2(s.target, s.values[k*m:(k+1)*m])
		if d < s.distance2 || d == s.distance2 && i < s.best {
			s.best, s.distance2 = i, d
		}
	}
}

// boxDistance2 is the squared distance to a node's box. It has no branches: they would not be foreseen.
func (s *nearestSearch) boxDistance2(k int) float64 {
	m := len(s.target)
	box := s.boxes[2*m*k : 2*m*(k+1)]
	low, high := box[:m], box[m:2*m]
	sum := 0.0
	for j, v := range s.target {
		d := max(low[j]-v, v-high[j], 0)
		sum += d * d
	}
	return sum
}
