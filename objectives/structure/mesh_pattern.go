package structure

import "slices"

// lay numbers the unknowns so that those of neighbours are close, and lays out the stiffness.
func (h *mesh) lay() {
	elements := h.elements()
	order := nearby(elements, 6*len(h.nodes))
	for n := range h.number {
		for i, k := range h.number[n] {
			if k >= 0 {
				h.number[n][i] = order[k]
			}
		}
	}
	unknowns := 0
	for _, k := range order {
		unknowns = max(unknowns, k+1)
	}
	h.pattern.Reset(unknowns)
	for _, e := range elements {
		for _, a := range e {
			for _, b := range e {
				h.pattern.Couple(order[a], order[b])
			}
		}
	}
	h.pattern.Close()
	for i := range h.tubes {
		t := &h.tubes[i]
		for block := range t.at {
			k := 0
			for row := range 6 {
				for column := range row + 1 {
					a, b := h.number[t.ends[row/3]][3*block+row%3], h.number[t.ends[column/3]][3*block+column%3]
					t.at[block][k] = -1
					if a >= 0 && b >= 0 {
						t.at[block][k] = h.pattern.At(a, b)
					}
					k++
				}
			}
		}
	}
}

// elements are the unknowns that each tube and each segment couples.
func (h *mesh) elements() [][]int {
	var all [][]int
	add := func(ends [2]int) {
		var e []int
		for _, n := range ends {
			if n < 0 {
				continue
			}
			for _, k := range h.number[n] {
				if k >= 0 {
					e = append(e, k)
				}
			}
		}
		all = append(all, e)
	}
	for i := range h.tubes {
		add(h.tubes[i].ends)
	}
	for i := range h.segments {
		add(h.segments[i].ends)
	}
	if h.opposed && h.shocks > 1 && h.eyes[0] >= 0 && h.eyes[1] >= 0 {
		add(h.eyes)
	}
	return all
}

// nearby numbers unknowns by the reverse Cuthill–McKee order; −1: in no element.
func nearby(elements [][]int, n int) []int {
	met := make([]int, n) // elements that an unknown is in
	for _, e := range elements {
		for _, a := range e {
			met[a]++
		}
	}
	order, found := make([]int, n), 0
	for i := range order {
		order[i] = -1
	}
	var queue []int
	visit := func(a int) {
		if order[a] < 0 {
			order[a] = found
			found++
			queue = append(queue, a)
		}
	}
	for {
		first := -1
		for a, count := range met {
			if count > 0 && order[a] < 0 && (first < 0 || count < met[first]) {
				first = a
			}
		}
		if first < 0 {
			break
		}
		visit(first)
		for len(queue) > 0 {
			a := queue[0]
			queue = queue[1:]
			for _, e := range elements {
				if slices.Contains(e, a) {
					for _, b := range e {
						visit(b)
					}
				}
			}
		}
	}
	for i, k := range order {
		if k >= 0 {
			order[i] = found - 1 - k
		}
	}
	return order
}
