package dominance

import "slices"

// Tree holds points of which none dominates another, and finds those that matter to a new one (after the
// ND-tree of Jaszkiewicz and Lust, IEEE Trans. Evol. Comput. 22, 2018; from memory, here with plane cuts).
// The zero Tree is empty. Points are numbered from 0; the numbers do not depend on the tree's shape.
type Tree struct {
	points    [][]float64
	root      region
	dominated []int
}

// Compare looks for a point equal to p or one that dominates it. Found is Equal or Worse then, and
// at its number. Otherwise found is Neither, and beaten, valid until the next call, lists the points that p
// dominates in no particular order.
func (t *Tree) Compare(p []float64) (at int, found Relation, beaten []int) {
	t.dominated = t.dominated[:0]
	at, found = t.root.compare(t, p, true, true)
	return at, found, t.dominated
}

// Add puts in a point, which gets the next number. The point is copied.
func (t *Tree) Add(p []float64) {
	t.points = append(t.points, slices.Clone(p))
	t.root.insert(t, len(t.points)-1)
}

// Remove takes out a point; the last one gets its number.
func (t *Tree) Remove(at int) {
	last := len(t.points) - 1
	t.root.renumber(t.points[at], at, -1)
	if at != last {
		t.root.renumber(t.points[last], last, at)
	}
	t.points[at] = t.points[last]
	t.points[last] = nil
	t.points = t.points[:last]
}

// region is a node of a Tree. Its box holds all its points; it does not shrink when some are removed.
type region struct {
	box         []float64 // the low values, then the high ones; nil while there is no point
	indices     []int     // points of a leaf
	values      []float64 // of these points, one after the other, so that a scan stays in one place
	column      int
	cut         float64 // points below go left
	left, right *region // nil in a leaf
}

// leafCapacity is the number of points that a leaf holds before it is divided.
const leafCapacity = 24

func (r *region) leaf() bool { return r.left == nil }

// compare is Compare for the points of a node, of which some may be better than p, or worse, as far as the boxes around it tell. A
// point that p dominates rules out one that dominates p.
func (r *region) compare(t *Tree, p []float64, better, worse bool) (at int, found Relation) {
	if r.box == nil {
		return 0, Neither
	}
	if better, worse = r.mayContain(p, better, worse); !better && !worse {
		return 0, Neither
	}
	if r.leaf() {
		return r.scan(t, p)
	}
	if at, found = r.left.compare(t, p, better, worse); found != Neither {
		return at, found
	}
	return r.right.compare(t, p, better, worse)
}

// mayContain reports whether some point in the box may be better than p, or worse, where that is asked.
func (r *region) mayContain(p []float64, better, worse bool) (mayBetter, mayWorse bool) {
	if better {
		for i, low := range r.box[:len(p)] {
			if low > p[i] {
				better = false
				break
			}
		}
	}
	if worse {
		for i, high := range r.box[len(p):] {
			if p[i] > high {
				worse = false
				break
			}
		}
	}
	return better, worse
}

// scan compares p with the points of a leaf.
func (r *region) scan(t *Tree, p []float64) (at int, found Relation) {
	m := len(p)
	for k, i := range r.indices {
		switch Compare(p, r.values[k*m:(k+1)*m]) {
		case Worse:
			return i, Worse
		case Equal:
			return i, Equal
		case Better:
			t.dominated = append(t.dominated, i)
		}
	}
	return 0, Neither
}

// insert puts in point at.
func (r *region) insert(t *Tree, at int) {
	p := t.points[at]
	for {
		r.widen(p)
		if r.leaf() {
			break
		}
		r = r.side(p)
	}
	r.indices, r.values = append(r.indices, at), append(r.values, p...)
	if len(r.indices) > leafCapacity {
		r.divide(t)
	}
}

func (r *region) widen(p []float64) {
	if r.box == nil {
		r.box = slices.Concat(p, p)
		return
	}
	low, high := r.box[:len(p)], r.box[len(p):]
	for i, v := range p {
		if v < low[i] {
			low[i] = v
		}
		if v > high[i] {
			high[i] = v
		}
	}
}

func (r *region) side(p []float64) *region {
	if p[r.column] < r.cut {
		return r.left
	}
	return r.right
}

// divide cuts a full leaf at the median of the column that divides its points most evenly, the next in turn
// among equals. Only the order of values counts, so no scale is needed.
func (r *region) divide(t *Tree) {
	best, even, m := -1, 0, len(r.box)/2
	var sorted [leafCapacity + 1]float64
	n := len(r.indices)
	values := slices.Grow(sorted[:0], n)[:n]
	for k := range m {
		column := (r.column + 1 + k) % m
		for i := range values {
			values[i] = r.values[i*m+column]
		}
		slices.Sort(values)
		cut := values[n/2]
		below, _ := slices.BinarySearch(values, cut)
		if e := min(below, n-below); e > even {
			best, even, r.cut = column, e, cut
		}
		if even == n/2 {
			break // no column divides them more evenly
		}
	}
	if best < 0 {
		return // all points alike, and a tree holds each once
	}
	r.column = best
	r.left, r.right = newLeaf(best, m), newLeaf(best, m)
	for _, at := range r.indices {
		side := r.side(t.points[at])
		side.widen(t.points[at])
		side.indices, side.values = append(side.indices, at), append(side.values, t.points[at]...)
	}
	r.indices, r.values = nil, nil
}

// newLeaf returns an empty leaf with room for as many points as it may come to hold.
func newLeaf(column, columns int) *region {
	return &region{column: column, indices: make([]int, 0, leafCapacity+1), values: make([]float64, 0, (leafCapacity+1)*columns)}
}

// renumber gives point at a new number, or takes it out when that is −1.
func (r *region) renumber(p []float64, at, number int) {
	for !r.leaf() {
		r = r.side(p)
	}
	k := slices.Index(r.indices, at)
	if number >= 0 {
		r.indices[k] = number
		return
	}
	m := len(p)
	r.indices, r.values = slices.Delete(r.indices, k, k+1), slices.Delete(r.values, k*m, (k+1)*m)
}
