package optimize

import "slices"

// region is a node of the tree in which an archive looks for members that dominate a key or
// are dominated by it (after the ND-tree of Jaszkiewicz and Lust, IEEE Trans. Evol. Comput.
// 22, 2018; from memory, here with plane cuts). Its box holds all its members' keys; it does
// not shrink when some go.
type region struct {
	low, high   []float64
	at          []int // members of a leaf
	column      int
	cut         float64 // keys below go left
	left, right *region // nil in a leaf
}

const regionMost = 24

func (r *region) leaf() bool { return r.left == nil }

// compare looks for a member equal to key or better; without one it lists in a.beaten those
// that key dominates. A member that key dominates excludes one that dominates key.
func (r *region) compare(a *archive, key []float64) (at, found int) {
	if r.low == nil || !r.concerns(key) {
		return 0, neither
	}
	if r.leaf() {
		return r.scan(a, key)
	}
	if at, found = r.left.compare(a, key); found != neither {
		return at, found
	}
	return r.right.compare(a, key)
}

// concerns reports whether some key in the box may be better than key, or worse.
func (r *region) concerns(key []float64) bool {
	better, worse := true, true
	for i, v := range key {
		better = better && r.low[i] <= v
		worse = worse && v <= r.high[i]
		if !better && !worse {
			return false
		}
	}
	return true
}

func (r *region) scan(a *archive, key []float64) (at, found int) {
	for _, i := range r.at {
		switch relation(key, a.keys[i]) {
		case worse:
			return i, worse
		case equal:
			return i, equal
		case superior:
			a.beaten = append(a.beaten, i)
		}
	}
	return 0, neither
}

// insert puts in member at.
func (r *region) insert(a *archive, at int) {
	key := a.keys[at]
	for {
		r.widen(key)
		if r.leaf() {
			break
		}
		r = r.side(key)
	}
	r.at = append(r.at, at)
	if len(r.at) > regionMost {
		r.divide(a)
	}
}

func (r *region) widen(key []float64) {
	if r.low == nil {
		r.low, r.high = slices.Clone(key), slices.Clone(key)
		return
	}
	for i, v := range key {
		r.low[i], r.high[i] = min(r.low[i], v), max(r.high[i], v)
	}
}

func (r *region) side(key []float64) *region {
	if key[r.column] < r.cut {
		return r.left
	}
	return r.right
}

// divide cuts a full leaf at the median of the column in which its members differ most,
// counted in places of their order, so that no scale is needed: the one where the median
// parts them most evenly, and the next in turn among equals.
func (r *region) divide(a *archive) {
	best, even := -1, 0
	values := make([]float64, len(r.at))
	for k := range r.low {
		column := (r.column + 1 + k) % len(r.low)
		for i, at := range r.at {
			values[i] = a.keys[at][column]
		}
		slices.Sort(values)
		cut := values[len(values)/2]
		below, _ := slices.BinarySearch(values, cut)
		if e := min(below, len(values)-below); e > even {
			best, even, r.cut = column, e, cut
		}
	}
	if best < 0 {
		return // all keys alike: cannot happen in an archive, which holds each once
	}
	r.column = best
	r.left, r.right = &region{column: best}, &region{column: best}
	for _, at := range r.at {
		side := r.side(a.keys[at])
		side.widen(a.keys[at])
		side.at = append(side.at, at)
	}
	r.at = nil
}

// forget gives the member of a key a new number, or takes it out when that is −1.
func (r *region) forget(key []float64, at, number int) {
	for !r.leaf() {
		r = r.side(key)
	}
	k := slices.Index(r.at, at)
	if number >= 0 {
		r.at[k] = number
		return
	}
	r.at = slices.Delete(r.at, k, k+1)
}
