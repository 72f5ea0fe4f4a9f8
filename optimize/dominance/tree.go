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
	at, found = t.root.compare(t, p)
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
	low, high   []float64
	indices     []int // points of a leaf
	column      int
	cut         float64 // points below go left
	left, right *region // nil in a leaf
}

// leafCapacity is the number of points that a leaf holds before it is divided.
const leafCapacity = 24

func (r *region) leaf() bool { return r.left == nil }

// compare is Compare for the points of a node. A point that p dominates rules out one that dominates p.
func (r *region) compare(t *Tree, p []float64) (at int, found Relation) {
	if r.low == nil || !r.mayContain(p) {
		return 0, Neither
	}
	if r.leaf() {
		return r.scan(t, p)
	}
	if at, found = r.left.compare(t, p); found != Neither {
		return at, found
	}
	return r.right.compare(t, p)
}

// mayContain reports whether some point in the box may be better than p, or worse.
func (r *region) mayContain(p []float64) bool {
	better, worse := true, true
	for i, v := range p {
		better = better && r.low[i] <= v
		worse = worse && v <= r.high[i]
		if !better && !worse {
			return false
		}
	}
	return true
}

func (r *region) scan(t *Tree, p []float64) (at int, found Relation) {
	for _, i := range r.indices {
		switch Compare(p, t.points[i]) {
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
	r.indices = append(r.indices, at)
	if len(r.indices) > leafCapacity {
		r.divide(t)
	}
}

func (r *region) widen(p []float64) {
	if r.low == nil {
		r.low, r.high = slices.Clone(p), slices.Clone(p)
		return
	}
	for i, v := range p {
		r.low[i], r.high[i] = min(r.low[i], v), max(r.high[i], v)
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
	best, even := -1, 0
	values := make([]float64, len(r.indices))
	for k := range r.low {
		column := (r.column + 1 + k) % len(r.low)
		for i, at := range r.indices {
			values[i] = t.points[at][column]
		}
		slices.Sort(values)
		cut := values[len(values)/2]
		below, _ := slices.BinarySearch(values, cut)
		if e := min(below, len(values)-below); e > even {
			best, even, r.cut = column, e, cut
		}
	}
	if best < 0 {
		return // all points alike, and a tree holds each once
	}
	r.column = best
	r.left, r.right = &region{column: best}, &region{column: best}
	for _, at := range r.indices {
		side := r.side(t.points[at])
		side.widen(t.points[at])
		side.indices = append(side.indices, at)
	}
	r.indices = nil
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
	r.indices = slices.Delete(r.indices, k, k+1)
}
