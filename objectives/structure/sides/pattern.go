package sides

import (
	"math"
	"slices"
)

// NumberUnknowns orders the unknowns for a small profile and lays out the stiffness matrix.
func (h *Mesh) NumberUnknowns() {
	elements := h.elements()
	var order []int
	least := math.MaxInt
	coupled := neighbours(elements, 6*len(h.nodes))
	for first, with := range coupled {
		if len(with) == 0 {
			continue
		}
		tried := kingOrder(coupled, first)
		h.couple(elements, tried)
		if work := h.Pattern.Work(); work < least {
			order, least = tried, work
		}
	}
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

// neighbours lists for each unknown those that an element couples it with, itself included; none where it is in no element.
func neighbours(elements [][]int, n int) [][]int {
	all := make([][]int, n)
	for _, e := range elements {
		for _, a := range e {
			for _, b := range e {
				if !slices.Contains(all[a], b) {
					all[a] = append(all[a], b)
				}
			}
		}
	}
	return all
}

// kingOrder numbers unknowns from the last to the first, beginning with one of them: next is always the one that adds the
// fewest neighbours to the front (King's algorithm, reversed). −1: in no element.
func kingOrder(coupled [][]int, first int) []int {
	n := len(coupled)
	order, beside, left := make([]int, n), make([]bool, n), 0
	for i := range order {
		order[i] = -1
		if len(coupled[i]) > 0 {
			left++
		}
	}
	next := first
	for left > 0 {
		left--
		order[next] = left
		for _, b := range coupled[next] {
			beside[b] = true
		}
		least := math.MaxInt
		for a, with := range coupled {
			if order[a] >= 0 || len(with) == 0 {
				continue
			}
			brings := 0
			for _, b := range with {
				if !beside[b] {
					brings++
				}
			}
			if !beside[a] {
				brings += n // only where nothing is beside
			}
			if brings < least {
				next, least = a, brings
			}
		}
	}
	return order
}
