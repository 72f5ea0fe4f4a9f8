package topology

import (
	"math/bits"
	"slices"
)

// most is the largest number of bodies of a chain. There are 230 chains of ten bodies; forks are enumerated up to eight.
const most = 10

// bodies is a set of bodies, a bit each.
type bodies uint16

func (s bodies) has(b int) bool { return s&(1<<b) != 0 }
func (s bodies) count() int     { return bits.OnesCount16(uint16(s)) }

func setOf(all ...int) (s bodies) {
	for _, b := range all {
		s |= 1 << b
	}
	return s
}

// graph has a body per vertex and a pivot per edge; no two bodies share more than one pivot.
type graph struct {
	n    int
	next [most]bodies // neighbours, by body
}

func (g *graph) join(a, b int) {
	g.next[a] |= 1 << b
	g.next[b] |= 1 << a
}

// pivots lists the pairs of joined bodies, the lower number first, in lexicographic order.
func (g *graph) pivots() (all [][2]int) {
	for a := range g.n {
		for b := a + 1; b < g.n; b++ {
			if g.next[a].has(b) {
				all = append(all, [2]int{a, b})
			}
		}
	}
	return all
}

// within counts the pivots among some of the bodies.
func (g *graph) within(s bodies) int {
	twice := 0
	for b := range g.n {
		if s.has(b) {
			twice += (g.next[b] & s).count()
		}
	}
	return twice / 2
}

// freedom is the number of degrees of freedom of some of the bodies relative to one of them, by Grübler and Kutzbach.
func (g *graph) freedom(s bodies) int { return 3*(s.count()-1) - 2*g.within(s) }

// distances are how many pivots each body is away from one of them; −1 where no chain of pivots leads there.
func (g *graph) distances(from int) []int {
	d := make([]int, g.n)
	for i := range d {
		d[i] = -1
	}
	d[from] = 0
	for queue := []int{from}; len(queue) > 0; queue = queue[1:] {
		for b := range g.n {
			if d[b] < 0 && g.next[queue[0]].has(b) {
				d[b] = d[queue[0]] + 1
				queue = append(queue, b)
			}
		}
	}
	return d
}

// canonical is the same for two graphs if, and only if, one becomes the other by a renumbering of its bodies. Bodies are
// told apart by their neighbours as far as that goes; where it does not, each of those that look alike is tried as the
// first of them.
func (g *graph) canonical() string {
	best := ""
	g.try(make([]int, g.n), &best)
	return best
}

// try extends a colouring of the bodies to numberings and keeps the least adjacency.
func (g *graph) try(colour []int, best *string) {
	colour = g.refine(colour)
	cell := make([]int, g.n+1)
	for _, c := range colour {
		cell[c]++
	}
	split := slices.IndexFunc(cell, func(n int) bool { return n > 1 })
	if split < 0 {
		if code := g.renumbered(colour); *best == "" || code < *best {
			*best = code
		}
		return
	}
	for b, c := range colour {
		if c == split {
			one := slices.Clone(colour)
			for i := range one {
				if one[i] == split && i != b {
					one[i]++ // the others of the cell come after b
				}
			}
			g.try(one, best)
		}
	}
}

// refine tells bodies apart by the colours of their neighbours until that changes nothing. A colour is the number of
// bodies of lower colours, so that a colouring without two of a kind is a numbering.
func (g *graph) refine(colour []int) []int {
	for {
		kind := make([][most + 1]int, g.n)
		for b := range g.n {
			kind[b][0] = colour[b]
			for a := range g.n {
				if g.next[b].has(a) {
					kind[b][1+colour[a]]++
				}
			}
		}
		next := make([]int, g.n)
		for b := range g.n {
			for a := range g.n {
				if slices.Compare(kind[a][:], kind[b][:]) < 0 {
					next[b]++
				}
			}
		}
		if slices.Equal(next, colour) {
			return next
		}
		colour = next
	}
}

// renumbered is the adjacency under a numbering, a byte pair per pivot.
func (g *graph) renumbered(number []int) string {
	var other graph
	other.n = g.n
	for _, p := range g.pivots() {
		other.join(number[p[0]], number[p[1]])
	}
	code := make([]byte, 0, 4*g.n)
	for _, p := range other.pivots() {
		code = append(code, byte(p[0]), byte(p[1]))
	}
	return string(append(code, byte(g.n)))
}
