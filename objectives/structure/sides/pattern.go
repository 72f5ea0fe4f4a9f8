package sides

import (
	"encoding/binary"
	"math"
	"math/bits"
)

// Orders are the orders of unknowns that meshes have had: those of forks whose bodies lie in other lanes often couple their unknowns
// alike, and to find an order takes longer than all else about a mesh. It is one worker's memory; its zero value has none.
type Orders struct {
	known map[string][]int
	key   []byte
}

// mostOrders is the number of orders kept.
const mostOrders = 4096

// of is the order of the unknowns that some elements couple.
func (o *Orders) of(h *Mesh, elements [][]int) []int {
	o.key = binary.AppendUvarint(o.key[:0], uint64(len(h.nodes)))
	for _, e := range elements {
		for _, k := range e {
			o.key = binary.AppendUvarint(o.key, uint64(k)+1)
		}
		o.key = append(o.key, 0)
	}
	if order, ok := o.known[string(o.key)]; ok {
		return order
	}
	if o.known == nil || len(o.known) == mostOrders {
		o.known = map[string][]int{}
	}
	order := h.order(elements)
	o.known[string(o.key)] = order
	return order
}

// order is that of King with the least work, from whichever unknown it begins.
func (h *Mesh) order(elements [][]int) (order []int) {
	least := math.MaxInt
	coupled := neighbours(elements, 6*len(h.nodes))
	for first := range coupled.n {
		if coupled.empty(first) {
			continue
		}
		tried := kingOrder(&coupled, first)
		h.couple(elements, tried)
		if work := h.Pattern.Work(); work < least {
			order, least = tried, work
		}
	}
	return order
}

// NumberUnknowns orders the unknowns for a small profile and lays out the stiffness matrix.
func (h *Mesh) NumberUnknowns(known *Orders) {
	elements := h.elements()
	order := known.of(h, elements)
	h.couple(elements, order)
	for n := range h.Number {
		for i, k := range h.Number[n] {
			if k >= 0 {
				h.Number[n][i] = order[k]
			}
		}
	}
	for i := range h.Tubes {
		t := &h.Tubes[i]
		for block := range t.At {
			k := 0
			for row := range 6 {
				for column := range row + 1 {
					a, b := h.Number[t.Ends[row/3]][3*block+row%3], h.Number[t.Ends[column/3]][3*block+column%3]
					t.At[block][k] = -1
					if a >= 0 && b >= 0 {
						t.At[block][k] = h.Pattern.At(a, b)
					}
					k++
				}
			}
		}
	}
	for i := range h.Segments {
		h.place(&h.Segments[i])
	}
}

// place records the unknowns of a segment and where its stiffness is stored.
func (h *Mesh) place(s *Segment) {
	for i := range s.Number {
		s.Number[i] = -1
		if n := s.Ends[i/6]; n >= 0 {
			s.Number[i] = h.Number[n][i%6]
		}
	}
	for i, row := range s.Number {
		for k, column := range s.Number[:i+1] {
			at := -1
			if row >= 0 && column >= 0 {
				at = h.Pattern.At(row, column)
			}
			s.At[i*(i+1)/2+k] = at
		}
	}
}

// couple lays out the stiffness matrix for an order of the unknowns.
func (h *Mesh) couple(elements [][]int, order []int) {
	unknowns := 0
	for _, k := range order {
		unknowns = max(unknowns, k+1)
	}
	h.Pattern.Reset(unknowns)
	for _, e := range elements {
		for _, a := range e {
			for _, b := range e {
				h.Pattern.Couple(order[a], order[b])
			}
		}
	}
	h.Pattern.Close()
}

// elements are the unknowns that each tube and each segment couples.
func (h *Mesh) elements() [][]int {
	var all [][]int
	add := func(ends [2]int) {
		var e []int
		for _, n := range ends {
			if n < 0 {
				continue
			}
			for _, k := range h.Number[n] {
				if k >= 0 {
					e = append(e, k)
				}
			}
		}
		all = append(all, e)
	}
	for i := range h.Tubes {
		add(h.Tubes[i].Ends)
	}
	for i := range h.Segments {
		add(h.Segments[i].Ends)
	}
	if h.Opposed && h.Shocks > 1 && h.Eyes[0] >= 0 && h.Eyes[1] >= 0 {
		add(h.Eyes)
	}
	for _, pair := range h.Bushes {
		if h.Opposed {
			add(pair)
		}
	}
	return all
}

// coupling has a set of unknowns for each: those that an element couples it with, itself included; none where it is in no element.
type coupling struct {
	n, words int
	bits     []uint64 // words for each unknown
}

func neighbours(elements [][]int, n int) coupling {
	c := coupling{n: n, words: (n + 63) / 64}
	c.bits = make([]uint64, n*c.words)
	for _, e := range elements {
		for _, a := range e {
			for _, b := range e {
				c.bits[a*c.words+b/64] |= 1 << (b % 64)
			}
		}
	}
	return c
}

func (c *coupling) of(unknown int) []uint64 {
	return c.bits[unknown*c.words : (unknown+1)*c.words]
}

func (c *coupling) empty(unknown int) bool {
	return c.of(unknown)[unknown/64]&(1<<(unknown%64)) == 0
}

// kingOrder numbers unknowns from the last to the first, beginning with one of them: next is always the one that adds the
// fewest neighbours to the front, of those beside numbered ones where there are any (King's algorithm, reversed). −1: in no element.
func kingOrder(coupled *coupling, first int) []int {
	order := make([]int, coupled.n)
	sets := make([]uint64, 2*coupled.words)
	beside, left := sets[:coupled.words], sets[coupled.words:] // beside numbered ones, these included; without a number
	remaining := 0
	for i := range order {
		if order[i] = -1; !coupled.empty(i) {
			left[i/64] |= 1 << (i % 64)
			remaining++
		}
	}
	for next := first; next >= 0; next = coupled.fewest(left, beside) {
		remaining--
		order[next] = remaining
		left[next/64] &^= 1 << (next % 64)
		for w, b := range coupled.of(next) {
			beside[w] |= b
		}
	}
	return order
}

// fewest is the unknown of those left that adds the fewest to those beside, the lowest of equals; −1 where none is left.
func (c *coupling) fewest(left, beside []uint64) int {
	next, least := -1, math.MaxInt
	for _, all := range [2]bool{false, true} {
		for w, set := range left {
			if !all {
				set &= beside[w]
			}
			for ; set != 0; set &= set - 1 {
				at, brings := 64*w+bits.TrailingZeros64(set), 0
				for k, b := range c.of(at) {
					brings += bits.OnesCount64(b &^ beside[k])
				}
				if brings < least {
					next, least = at, brings
				}
			}
		}
		if next >= 0 {
			break // the others only where none is beside
		}
	}
	return next
}
