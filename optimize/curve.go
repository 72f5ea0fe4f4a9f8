package optimize

import (
	"math"
	"slices"
)

// cutAlongCurve is cutByVolume for a layer of two objectives: in the order of the first one
// a member's contribution is a rectangle between its neighbours, so a drop costs no more
// than setting a heap right.
func cutAlongCurve(layer []*member, n int, keepEnds bool) []*member {
	c := newChain(layer)
	if keepEnds && n > 2 {
		c.fixed[c.order[0]], c.fixed[c.order[len(layer)-1]] = true, true
	}
	q := make(gaps, len(layer))
	for i := range layer {
		q[i] = gap{near: c.value(i), point: i}
	}
	q.order()
	gone := make([]bool, len(layer))
	for left := len(layer); left > n; {
		i := q[0].point
		if v := c.value(i); v > q[0].near { // a neighbour went: contributions only grow
			q[0].near = v
		} else {
			gone[i] = true
			c.drop(i)
			left--
			q[0] = q[len(q)-1]
			q = q[:len(q)-1]
		}
		q.down(0)
	}
	kept := make([]*member, 0, n)
	for i, m := range layer {
		if !gone[i] {
			kept = append(kept, m)
		}
	}
	return kept
}

// chain links the points of a layer in the order of the first objective.
type chain struct {
	points         [][]float64 // scaled to 0..1
	order          []int
	before, behind []int // −1 at the ends
	fixed          []bool
}

func newChain(layer []*member) *chain {
	n := len(layer)
	c := &chain{
		points: normalised(points(layer)), order: make([]int, n),
		before: make([]int, n), behind: make([]int, n), fixed: make([]bool, n),
	}
	for i := range c.order {
		c.order[i] = i
	}
	slices.SortStableFunc(c.order, func(i, j int) int { return slices.Compare(c.points[i], c.points[j]) })
	for k, i := range c.order {
		c.before[i], c.behind[i] = -1, -1
		if k > 0 {
			c.before[i] = c.order[k-1]
		}
		if k+1 < n {
			c.behind[i] = c.order[k+1]
		}
	}
	return c
}

// value is what the point adds to the volume below (1.1, 1.1).
func (c *chain) value(i int) float64 {
	if c.fixed[i] {
		return math.Inf(1)
	}
	right, top := 1.1, 1.1
	if k := c.behind[i]; k >= 0 {
		right = c.points[k][0]
	}
	if k := c.before[i]; k >= 0 {
		top = c.points[k][1]
	}
	return (right - c.points[i][0]) * (top - c.points[i][1])
}

func (c *chain) drop(i int) {
	b, f := c.before[i], c.behind[i]
	if b >= 0 {
		c.behind[b] = f
	}
	if f >= 0 {
		c.before[f] = b
	}
}
