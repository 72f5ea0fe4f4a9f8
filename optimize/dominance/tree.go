package dominance

import (
	"slices"

	"forkfront/optimize/lanes"
)

// Tree holds points of which none dominates another, and finds those that matter to a new one (after the
// ND-tree of Jaszkiewicz and Lust, IEEE Trans. Evol. Comput. 22, 2018; from memory, here with plane cuts). It compares
// packed points, and values only where these leave something open.
// The zero Tree is empty. Points are numbered from 0; the numbers do not depend on the tree's shape.
type Tree struct {
	columns   int
	values    []float64 // of the points, one after the other
	words     []uint64  // the points packed
	lanes     lanes.Lanes
	regions   []region // the first one is the root
	fresh     int      // points added since the lanes were fitted
	dominated []int
	order     []int32 // scratch
}

// region is a node of a Tree. All its points lie between the two packed bounds, which do not shrink when some are removed.
type region struct {
	low, high   uint64
	left, right int32    // children; 0 in a leaf
	lane        int      // in which it is cut
	cut         uint64   // words below go left
	indices     []int32  // points of a leaf
	words       []uint64 // of these points, so that a scan stays in one place
}

const (
	leafCapacity = 48 // points that a leaf holds before it is divided
	fewest       = 64 // points up to which lanes are not fitted again
)

func (t *Tree) point(at int) []float64 { return t.values[at*t.columns : (at+1)*t.columns] }

// Load puts in points of a number of columns, one after the other, in place of those there were. The slice becomes the tree's.
func (t *Tree) Load(values []float64, columns int) {
	t.columns, t.values = columns, values
	t.words = slices.Grow(t.words[:0], len(values)/columns)[:len(values)/columns]
	t.settle()
}

// Compare looks for a point equal to p or one that dominates it. Found is Equal or Worse then, and
// at its number. Otherwise found is Neither, and beaten, valid until the next call, lists the points that p
// dominates in no particular order.
func (t *Tree) Compare(p []float64) (at int, found Relation, beaten []int) {
	t.dominated = t.dominated[:0]
	if len(t.regions) > 0 {
		at, found = t.compare(0, p, t.lanes.Pack(p), true, true)
	}
	return at, found, t.dominated
}

// Below visits the points that are nowhere above a limit, and some that are. The limit may be lowered meanwhile; visit tells when it has
// been. Nothing of the tree changes, so that several goroutines may look.
func (t *Tree) Below(limit []float64, visit func(at int) (lower bool)) {
	if len(t.regions) > 0 {
		t.below(0, limit, t.lanes.Pack(limit), visit)
	}
}

// below is Below for the points of a region, the limit packed before and after. The side of the limit comes first, where points are that
// lower it most.
func (t *Tree) below(k int32, limit []float64, word uint64, visit func(at int) bool) uint64 {
	r := &t.regions[k]
	if !t.lanes.NoneAbove(r.low, word) {
		return word
	}
	if r.left == 0 {
		guards := t.lanes.Guards
		for i, w := range r.words {
			if (word|guards-w)&guards == guards && visit(int(r.indices[i])) {
				word = t.lanes.Pack(limit)
			}
		}
		return word
	}
	first, second := r.left, r.right
	if t.side(r, word) == second {
		first, second = second, first
	}
	word = t.below(first, limit, word, visit)
	return t.below(second, limit, word, visit)
}

// Add puts in a point, which gets the next number. The point is copied.
func (t *Tree) Add(p []float64) {
	t.columns, t.values = len(p), append(t.values, p...)
	t.words = append(t.words, 0)
	if t.fresh++; t.fresh > len(t.words)/2+fewest || len(t.regions) == 0 {
		t.settle()
		return
	}
	t.insert(len(t.words)-1, t.lanes.Pack(p))
}

// Remove takes out a point; the last one gets its number.
func (t *Tree) Remove(at int) {
	last := len(t.words) - 1
	t.renumber(at, -1)
	if at != last {
		t.renumber(last, at)
		t.words[at] = t.words[last]
		copy(t.point(at), t.point(last))
	}
	t.words, t.values = t.words[:last], t.values[:last*t.columns]
}

// settle fits the lanes to all points and divides them again.
func (t *Tree) settle() {
	t.fresh = 0
	t.regions = t.regions[:0]
	n := len(t.words)
	if n == 0 {
		return
	}
	t.fit()
	t.order = t.order[:0]
	for i := range t.words {
		t.words[i] = t.lanes.Pack(t.point(i))
		t.order = append(t.order, int32(i))
	}
	t.build(t.order)
}

// fit fits the lanes to the range of a sample of the points, outliers left out.
func (t *Tree) fit() {
	const (
		sampled = 128
		edge    = 10  // part of the values that is left out at either end
		beyond  = 0.5 // how far a lane reaches beyond the others, in parts of their range
	)
	n := len(t.words)
	stride := (n + sampled - 1) / sampled
	low, high := make([]float64, t.columns), make([]float64, t.columns)
	var values [sampled]float64
	for column := range low {
		some := values[:0]
		for i := 0; i < n; i += stride {
			some = append(some, t.values[i*t.columns+column])
		}
		slices.Sort(some)
		out := len(some) / edge
		low[column], high[column] = some[out], some[len(some)-1-out]
		reach := beyond * (high[column] - low[column])
		low[column], high[column] = low[column]-reach, high[column]+reach
	}
	t.lanes.Fit(low, high)
}

// build makes a region of some points and those within it.
func (t *Tree) build(points []int32) int32 {
	at := int32(len(t.regions))
	r := t.bounds(points)
	if len(points) > leafCapacity && t.halve(&r, points) {
		t.regions = append(t.regions, r)
		mid := t.part(points, &r)
		left := t.build(points[:mid])
		right := t.build(points[mid:])
		t.regions[at].left, t.regions[at].right = left, right
		return at
	}
	room := max(len(points), leafCapacity+1)
	r.indices, r.words = append(make([]int32, 0, room), points...), make([]uint64, 0, room)
	for _, i := range points {
		r.words = append(r.words, t.words[i])
	}
	t.regions = append(t.regions, r)
	return at
}

// bounds returns a region that holds some points, not yet told which.
func (t *Tree) bounds(points []int32) region {
	r := region{low: t.words[points[0]], high: t.words[points[0]]}
	for _, i := range points {
		t.widen(&r, t.words[i])
	}
	return r
}

// halve chooses where a region of some points is cut, at the mean of its widest lane; false where all points share a word.
func (t *Tree) halve(r *region, points []int32) bool {
	at, span := t.lanes.Widest(r.low, r.high)
	if span == 0 {
		return false
	}
	sum, low := uint64(0), t.lanes.Lane(r.low, at)
	for _, i := range points {
		sum += t.lanes.Lane(t.words[i], at) - low
	}
	r.lane, r.cut = at, low+sum/uint64(len(points))+1
	return true
}

// part moves the points below a region's cut to the front and returns how many there are.
func (t *Tree) part(points []int32, r *region) int {
	mid := 0
	for k, i := range points {
		if t.lanes.Lane(t.words[i], r.lane) < r.cut {
			points[k], points[mid] = points[mid], i
			mid++
		}
	}
	return mid
}

// compare is Compare for the points of a region, of which some may be better than p, or worse, as far as the regions around it tell. A
// point that p dominates rules out one that dominates p.
func (t *Tree) compare(region int32, p []float64, word uint64, better, worse bool) (at int, found Relation) {
	r := &t.regions[region]
	better = better && t.lanes.NoneAbove(r.low, word)
	worse = worse && t.lanes.NoneAbove(word, r.high)
	switch {
	case !better && !worse:
		return 0, Neither
	case r.left == 0:
		return t.scan(r, p, word, better, worse)
	}
	if at, found = t.compare(r.left, p, word, better, worse); found != Neither {
		return at, found
	}
	return t.compare(t.regions[region].right, p, word, better, worse)
}

// scan compares p with the points of a leaf.
func (t *Tree) scan(r *region, p []float64, word uint64, better, worse bool) (at int, found Relation) {
	guards := t.lanes.Guards
	if better {
		guarded := word | guards
		for k, w := range r.words {
			if (guarded-w)&guards != guards {
				continue
			}
			switch i := int(r.indices[k]); Compare(p, t.point(i)) {
			case Worse:
				return i, Worse
			case Equal:
				return i, Equal
			}
		}
	}
	if worse {
		for k, w := range r.words {
			if (w|guards-word)&guards != guards {
				continue
			}
			if i := int(r.indices[k]); Dominates(p, t.point(i)) {
				t.dominated = append(t.dominated, i)
			}
		}
	}
	return 0, Neither
}

// insert puts point at into its leaf.
func (t *Tree) insert(at int, word uint64) {
	t.words[at] = word
	k := int32(0)
	for r := &t.regions[0]; ; r = &t.regions[k] {
		t.widen(r, word)
		if r.left == 0 {
			break
		}
		k = t.side(r, word)
	}
	r := &t.regions[k]
	r.indices, r.words = append(r.indices, int32(at)), append(r.words, word)
	if len(r.indices) > leafCapacity {
		t.divide(k)
	}
}

// divide gives the points of a full leaf to two regions.
func (t *Tree) divide(k int32) {
	r := t.bounds(t.regions[k].indices)
	points := t.regions[k].indices
	if !t.halve(&r, points) {
		return
	}
	mid := t.part(points, &r)
	r.left = t.build(points[:mid])
	r.right = t.build(points[mid:])
	t.regions[k] = r
}

func (t *Tree) widen(r *region, word uint64) {
	t.lanes.Widen(&r.low, &r.high, word)
}

func (t *Tree) side(r *region, word uint64) int32 {
	if t.lanes.Lane(word, r.lane) < r.cut {
		return r.left
	}
	return r.right
}

// renumber gives point at a new number, or takes it out when that is −1.
func (t *Tree) renumber(at, number int) {
	r := &t.regions[0]
	for r.left != 0 {
		r = &t.regions[t.side(r, t.words[at])]
	}
	k := slices.Index(r.indices, int32(at))
	if number >= 0 {
		r.indices[k] = int32(number)
		return
	}
	last := len(r.indices) - 1
	r.indices[k], r.words[k] = r.indices[last], r.words[last]
	r.indices, r.words = r.indices[:last], r.words[:last]
}
