package volume

import (
	"cmp"
	"math"
	"slices"

	"forkfront/optimize/spacing"
)

// contributions holds what each of a set of points, two or three columns wide, adds to the
// volume of the whole set, and keeps it right while points are dropped.
type contributions struct {
	points [][]float64
	ref    float64 // reference in every column
	alive  []bool
	value  []float64
	left   int
	order  []placed // alive points by the last column
	below  dominatedArea
	corner []float64
	nearby []placed // around the point dropped last
}

// placed is a point in the order of the last column, held side by side with its neighbours there.
type placed struct {
	x, y, last float64 // of two columns y is not used
	index      int
}

func newContributions(points [][]float64, ref float64) *contributions {
	n := len(points)
	points = capped(points, ref)
	c := &contributions{
		points: points, ref: ref, alive: make([]bool, n), value: make([]float64, n), left: n,
		order: make([]placed, n), corner: make([]float64, len(points[0])),
	}
	for i, p := range points {
		c.alive[i], c.order[i] = true, place(p, i)
	}
	c.sort()
	for i, p := range points {
		c.value[i] = c.exclusiveVolume(p, i, i)
	}
	return c
}

func place(p []float64, index int) placed {
	return placed{p[0], p[1], p[len(p)-1], index}
}

func (c *contributions) sort() {
	slices.SortStableFunc(c.order, func(a, b placed) int { return cmp.Compare(a.last, b.last) })
}

// capped returns the points with values beyond ref brought down to it. Either way such a point takes no volume,
// but boxes beyond ref would be counted, some of them as negative.
func capped(points [][]float64, ref float64) [][]float64 {
	out := slices.Clone(points)
	for i, p := range out {
		if slices.Max(p) > ref {
			out[i] = slices.Clone(p)
			for j, v := range p {
				out[i][j] = min(v, ref)
			}
		}
	}
	return out
}

// exclusiveVolume is the part of the box between corner, no value of which is beyond the reference, and the reference
// that no living point but a and b takes.
func (c *contributions) exclusiveVolume(corner []float64, a, b int) float64 {
	if len(corner) == 2 {
		return c.exclusiveArea(corner, a, b)
	}
	c.below.reset(c.ref, c.ref)
	box := (c.ref - corner[0]) * (c.ref - corner[1])
	free, height := 0.0, corner[2]
	right, top := c.ref, c.ref // of what is still free at this height
	for k := range c.order {
		p := &c.order[k]
		if p.x >= right || p.y >= top || p.index == a || p.index == b {
			continue
		}
		if p.last > height {
			free += (box - c.below.area) * (p.last - height)
			height = p.last
		}
		x, y := max(p.x, corner[0]), max(p.y, corner[1])
		if x == corner[0] {
			top = y
		}
		if y == corner[1] {
			right = x
		}
		if top == corner[1] || right == corner[0] {
			return free
		}
		c.below.add(x, y)
	}
	return free + (box-c.below.area)*(c.ref-height)
}

func (c *contributions) exclusiveArea(corner []float64, a, b int) float64 {
	free, left := 0.0, c.ref // right to left would need the other order: go up the second column
	height := corner[1]
	for _, p := range c.order {
		if p.index == a || p.index == b {
			continue
		}
		if p.last > height {
			free += (left - corner[0]) * (p.last - height)
			height = p.last
		}
		left = min(left, max(p.x, corner[0]))
		if left <= corner[0] {
			return free
		}
	}
	return free + (left-corner[0])*(c.ref-height)
}

// least returns the living point of the smallest value, the first among equals.
func (c *contributions) least() int {
	best := -1
	for i, v := range c.value {
		if c.alive[i] && (best < 0 || v < c.value[best]) {
			best = i
		}
	}
	return best
}

// drop takes q out. Every other point p gains what only the two of them held.
func (c *contributions) drop(q int) {
	c.alive[q] = false
	c.left--
	c.order = slices.DeleteFunc(c.order, func(p placed) bool { return p.index == q })
	c.around(c.points[q])
	for p := range c.points {
		if !c.alive[p] || math.IsInf(c.value[p], 1) {
			continue
		}
		inside := true
		for i := range c.corner {
			c.corner[i] = max(c.points[p][i], c.points[q][i])
			inside = inside && c.corner[i] < c.ref
		}
		if inside && !c.coveredBy(c.nearby, p) && !c.coveredBy(c.upTo(c.corner[len(c.corner)-1]), p) {
			c.value[p] += c.exclusiveVolume(c.corner, p, p)
		}
	}
}

// nearbyMost is how many points around a dropped one are asked first whether they cover a corner. Most corners are
// covered by one of them.
const nearbyMost = 8

// around finds the living points that come nearest to dominating a place.
func (c *contributions) around(q []float64) {
	place := place(q, -1)
	flat := len(q) == 2
	c.nearby = c.nearby[:0]
	var shifts [nearbyMost]float64
	for k := range c.order {
		o := &c.order[k]
		shift := max(o.x-place.x, o.last-place.last)
		if !flat {
			shift = max(shift, o.y-place.y)
		}
		n := len(c.nearby)
		if n == nearbyMost && shift >= shifts[n-1] {
			continue
		}
		if n < nearbyMost {
			c.nearby = append(c.nearby, placed{})
			n++
		}
		i := n - 1
		for ; i > 0 && shifts[i-1] > shift; i-- {
			shifts[i], c.nearby[i] = shifts[i-1], c.nearby[i-1]
		}
		shifts[i], c.nearby[i] = shift, *o
	}
}

// upTo is the living points whose last column is not beyond a value.
func (c *contributions) upTo(last float64) []placed {
	n, _ := slices.BinarySearchFunc(c.order, last, func(p placed, last float64) int {
		if p.last <= last {
			return -1
		}
		return 1
	})
	return c.order[:n]
}

// coveredBy reports whether one of some living points other than p dominates the corner weakly: then
// there is nothing to gain, which is the common case and cheap to see.
func (c *contributions) coveredBy(some []placed, p int) bool {
	last := c.corner[len(c.corner)-1]
	x, y := c.corner[0], c.corner[1]
	if len(c.corner) == 2 {
		y = math.Inf(1)
	}
	for k := range some {
		if o := &some[k]; o.x <= x && o.y <= y && o.last <= last && o.index != p {
			return true
		}
	}
	return false
}

// Cut returns the indices of n points, two or three columns wide: the one that adds least to the volume of the
// others is dropped until n are left. Each column is scaled to its range and the reference is 1.1. With
// keepEnds the best point of each column stays, if n allows.
func Cut(points [][]float64, n int, keepEnds bool) []int {
	scaled := spacing.Normalised(points)
	c := newContributions(scaled, Reference)
	if keepEnds && n > len(scaled[0]) {
		for column := range scaled[0] {
			c.value[spacing.BestOf(scaled, column)] = math.Inf(1)
		}
	}
	for c.left > n {
		c.drop(c.least())
	}
	kept := make([]int, 0, n)
	for i, alive := range c.alive {
		if alive {
			kept = append(kept, i)
		}
	}
	return kept
}
