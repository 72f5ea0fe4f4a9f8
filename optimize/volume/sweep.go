package volume

import "slices"

// stair is a point of a staircase: of those swept so far one that no other is nowhere above in the first two columns, x ascending,
// y descending.
type stair struct {
	x, y  float64
	index int
}

// sweep gives what each living point adds, three columns wide, by going up the last one. What the points below leave of a point's
// nook follows from the staircase that they make, of which the nook seldom touches more than a few points (Emmerich and Fonseca,
// EMO 2011; recalled). Of each point a set in looked, all of one length, gets the points that its volume depends on.
func (c *contributions) sweep(looked []uint64, yield func(i int, volume float64)) {
	words := len(looked) / len(c.points)
	var stairs []stair
	for k, p := range c.order {
		c.looked = looked[words*p.index : words*(p.index+1)]
		at, _ := slices.BinarySearchFunc(stairs, p.x, func(s stair, x float64) int {
			if s.x < x {
				return -1
			}
			return 1
		})
		// Those before are to the left.
		if at > 0 && stairs[at-1].y <= p.y {
			c.look(stairs[at-1].index)
			yield(p.index, 0)
			continue
		}
		if at < len(stairs) && stairs[at].x == p.x && stairs[at].y <= p.y {
			c.look(stairs[at].index)
			yield(p.index, 0)
			continue
		}
		end := at
		for end < len(stairs) && stairs[end].y >= p.y {
			end++
		}
		c.open.fill(p.x, p.y, c.ref, stairs, at, end)
		for i := max(at-1, 0); i < min(end+1, len(stairs)); i++ {
			c.look(stairs[i].index)
		}
		yield(p.index, c.above(c.points[p.index], c.order[k+1:], p.index))
		stairs = slices.Replace(stairs, at, end, stair{p.x, p.y, p.index})
	}
}

// again is what a living point adds after others were dropped.
func (c *contributions) again(i int) float64 {
	corner := c.points[i]
	if len(corner) == 2 {
		return c.exclusiveArea(corner, i)
	}
	x, y, right, top := corner[0], corner[1], c.ref, c.ref
	rightmost, topmost, below := i, i, 0
	for ; below < len(c.order) && c.order[below].last <= corner[2]; below++ {
		switch p := &c.order[below]; {
		case p.x >= right || p.y >= top || p.index == i:
		case p.x <= x && p.y <= y:
			c.look(p.index)
			return 0
		case p.y <= y:
			right, rightmost = p.x, p.index
		case p.x <= x:
			top, topmost = p.y, p.index
		}
	}
	c.look(rightmost)
	c.look(topmost)
	c.open.reset(x, y, right, top)
	for k := range c.order[:below] {
		if p := &c.order[k]; p.x < c.open.right && p.y < c.open.top && p.index != i {
			c.look(p.index)
			c.open.take(p.x, p.y)
		}
	}
	return c.above(corner, c.order[below:], i)
}
