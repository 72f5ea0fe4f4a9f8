package volume

import (
	"math"
	"slices"

	"forkfront/optimize/spacing"
)

// CutCurve is Cut for two columns: in the order of the first one a point's contribution is a rectangle
// between its neighbours, so a drop costs no more than fixing a heap.
func CutCurve(points [][]float64, n int, keepEnds bool) []int {
	c := newChain(points)
	if keepEnds && n > 2 {
		c.fixed[c.order[0]], c.fixed[c.order[len(points)-1]] = true, true
	}
	q := make(spacing.Queue, len(points))
	for i := range points {
		q[i] = spacing.Entry{Key: c.value(i), Index: i}
	}
	q.Init()
	gone := make([]bool, len(points))
	for left := len(points); left > n; {
		i := q[0].Index
		if v := c.value(i); v > q[0].Key { // a neighbour was dropped: contributions only grow
			q[0].Key = v
			q.Sink()
			continue
		}
		gone[i] = true
		c.drop(i)
		left--
		q.Drop()
	}
	kept := make([]int, 0, n)
	for i := range points {
		if !gone[i] {
			kept = append(kept, i)
		}
	}
	return kept
}

// chain links points in the order of the first column.
type chain struct {
	points         [][]float64 // scaled to 0..1
	order          []int
	previous, next []int // −1 at the ends
	fixed          []bool
}

func newChain(points [][]float64) *chain {
	n := len(points)
	c := &chain{
		points: spacing.Normalised(points), order: make([]int, n),
		previous: make([]int, n), next: make([]int, n), fixed: make([]bool, n),
	}
	for i := range c.order {
		c.order[i] = i
	}
	slices.SortStableFunc(c.order, func(i, j int) int { return slices.Compare(c.points[i], c.points[j]) })
	for k, i := range c.order {
		c.previous[i], c.next[i] = -1, -1
		if k > 0 {
			c.previous[i] = c.order[k-1]
		}
		if k+1 < n {
			c.next[i] = c.order[k+1]
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
	if k := c.next[i]; k >= 0 {
		right = c.points[k][0]
	}
	if k := c.previous[i]; k >= 0 {
		top = c.points[k][1]
	}
	return (right - c.points[i][0]) * (top - c.points[i][1])
}

func (c *chain) drop(i int) {
	b, f := c.previous[i], c.next[i]
	if b >= 0 {
		c.next[b] = f
	}
	if f >= 0 {
		c.previous[f] = b
	}
}
