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
	order  []int // alive points by the last column
	below  dominatedArea
	corner []float64
}

func newContributions(points [][]float64, ref float64) *contributions {
	n := len(points)
	points = capped(points, ref)
	c := &contributions{points: points, ref: ref, alive: make([]bool, n), value: make([]float64, n), left: n}
	c.order = make([]int, n)
	for i := range points {
		c.alive[i], c.order[i] = true, i
	}
	last := len(points[0]) - 1
	slices.SortStableFunc(c.order, func(i, j int) int { return cmp.Compare(points[i][last], points[j][last]) })
	c.corner = make([]float64, last+1)
	for i, p := range points {
		c.value[i] = c.exclusiveVolume(p, i, i)
	}
	return c
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
	for _, i := range c.order {
		if i == a || i == b {
			continue
		}
		p := c.points[i]
		if p[2] > height {
			free += (box - c.below.area) * (p[2] - height)
			height = p[2]
		}
		c.below.add(max(p[0], corner[0]), max(p[1], corner[1]))
		if c.below.area >= box {
			return free
		}
	}
	return free + (box-c.below.area)*(c.ref-height)
}

func (c *contributions) exclusiveArea(corner []float64, a, b int) float64 {
	free, left := 0.0, c.ref // right to left would need the other order: go up the second column
	height := corner[1]
	for _, i := range c.order {
		if i == a || i == b {
			continue
		}
		p := c.points[i]
		if p[1] > height {
			free += (left - corner[0]) * (p[1] - height)
			height = p[1]
		}
		left = min(left, max(p[0], corner[0]))
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
	c.order = slices.DeleteFunc(c.order, func(i int) bool { return i == q })
	for p := range c.points {
		if !c.alive[p] || math.IsInf(c.value[p], 1) {
			continue
		}
		inside := true
		for i := range c.corner {
			c.corner[i] = max(c.points[p][i], c.points[q][i])
			inside = inside && c.corner[i] < c.ref
		}
		if inside && !c.covered(p) {
			c.value[p] += c.exclusiveVolume(c.corner, p, p)
		}
	}
}

// covered reports whether a living point other than p dominates the corner weakly: then
// there is nothing to gain, which is the common case and cheap to see.
func (c *contributions) covered(p int) bool {
	last := len(c.corner) - 1
	for _, i := range c.order {
		v := c.points[i]
		if v[last] > c.corner[last] {
			return false
		}
		if i != p && v[0] <= c.corner[0] && (last < 2 || v[1] <= c.corner[1]) {
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
