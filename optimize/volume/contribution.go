package volume

import (
	"cmp"
	"math"
	"slices"

	"forkfront/optimize/spacing"
)

// contributions tells what each of a set of points, two or three columns wide, adds to the volume of the whole set, some of
// which may be dropped.
type contributions struct {
	points [][]float64
	ref    float64  // reference in every column
	order  []placed // living points by the last column
	open   nook     // scratch
	looked []uint64 // where not nil, set to the points that the last volume depended on
}

// placed is a point in the order of the last column, held side by side with its neighbours there.
type placed struct {
	x, y, last float64 // of two columns y is not used
	index      int
}

func newContributions(points [][]float64, ref float64) *contributions {
	points = capped(points, ref)
	c := &contributions{points: points, ref: ref, order: make([]placed, len(points))}
	for i, p := range points {
		c.order[i] = place(p, i)
	}
	slices.SortFunc(c.order, func(a, b placed) int { return cmp.Or(cmp.Compare(a.last, b.last), cmp.Compare(a.index, b.index)) })
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
// that no living point but one takes.
func (c *contributions) exclusiveVolume(corner []float64, but int) float64 {
	if len(corner) == 2 {
		return c.exclusiveArea(corner, but)
	}
	c.open.reset(corner[0], corner[1], c.ref, c.ref)
	return c.above(corner, c.order, but)
}

// above is the volume over the open nook of a corner that none of some points takes but one, in the order of their last column.
func (c *contributions) above(corner []float64, points []placed, but int) float64 {
	free, height := 0.0, corner[2]
	for k := range points {
		p := &points[k]
		if p.x >= c.open.right || p.y >= c.open.top || p.index == but {
			continue
		}
		c.look(p.index)
		if p.last > height {
			free += c.open.area * (p.last - height)
			height = p.last
		}
		if c.open.take(max(p.x, corner[0]), max(p.y, corner[1])); c.open.area <= 0 {
			return free
		}
	}
	return free + c.open.area*(c.ref-height)
}

func (c *contributions) exclusiveArea(corner []float64, but int) float64 {
	free, left := 0.0, c.ref // right to left would need the other order: go up the second column
	height := corner[1]
	for _, p := range c.order {
		if p.index == but {
			continue
		}
		c.look(p.index)
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

func (c *contributions) look(i int) {
	if c.looked != nil {
		c.looked[uint(i)/64] |= 1 << (uint(i) % 64)
	}
}

// of is what a point adds.
func (c *contributions) of(i int) float64 { return c.exclusiveVolume(c.points[i], i) }

func (c *contributions) drop(i int) {
	at := slices.IndexFunc(c.order, func(p placed) bool { return p.index == i })
	c.order = append(c.order[:at], c.order[at+1:]...)
}

// Cut returns the indices of n points, two or three columns wide: the one that adds least to the volume of the
// others is dropped until n are left. Each column is scaled to its range and the reference is 1.1. With
// keepEnds the best point of each column stays, if n allows.
func Cut(points [][]float64, n int, keepEnds bool) []int {
	scaled := spacing.Normalised(points)
	c := newContributions(scaled, Reference)
	q := make(spacing.Queue, len(points))
	words := (len(points) + 63) / 64
	looked, dropped := make([]uint64, words*len(points)), make([]uint64, words)
	look := func(i int, volume func(int) float64) float64 {
		c.looked = looked[words*i : words*(i+1)]
		clear(c.looked)
		return volume(i)
	}
	const rounding = 1e-12
	// The order of volumes that are no more than rounding errors depends on how they are worked out, so that it is always in one way.
	of := func(i int, v float64) float64 {
		if v > rounding {
			return v
		}
		return look(i, c.of)
	}
	if len(points) > 0 && len(points[0]) == 3 {
		c.sweep(looked, func(i int, v float64) { q[i].Key = v })
	}
	for i := range points {
		q[i] = spacing.Entry{Key: of(i, q[i].Key), Index: i}
	}
	if keepEnds && n > len(scaled[0]) {
		for column := range scaled[0] {
			q[spacing.BestOf(scaled, column)].Key = math.Inf(1)
		}
	}
	q.Init()
	for len(q) > n {
		i := q[0].Index
		if meet(looked[words*i:words*(i+1)], dropped) { // a neighbour was dropped: contributions only grow
			if v := of(i, look(i, c.again)); v > q[0].Key {
				q[0].Key = v
				q.Sink()
				continue
			}
		}
		c.drop(i)
		dropped[uint(i)/64] |= 1 << (uint(i) % 64)
		q.Drop()
	}
	kept := make([]int, len(q))
	for k, e := range q {
		kept[k] = e.Index
	}
	slices.Sort(kept)
	return kept
}

func meet(a, b []uint64) bool {
	for w, v := range a {
		if v&b[w] != 0 {
			return true
		}
	}
	return false
}
