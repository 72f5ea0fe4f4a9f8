package optimize

import "slices"

// stairLayers are layers of three objectives: of those that came before a member in
// lexicographic order, none worse in the first, one dominates it if it is no worse in the
// second and third either. So each layer is held as a staircase in these two.
type stairLayers struct {
	members []*member
	layers  []stairs
}

// stairs are the points of a plane that no other one dominates: x ascending, y descending.
type stairs struct{ x, y []float64 }

func (l *stairLayers) dominated(layer, member int) bool {
	f := l.members[member].out.F
	return l.layers[layer].cover(f[1], f[2])
}

func (l *stairLayers) put(layer, member int) {
	if layer == len(l.layers) {
		l.layers = append(l.layers, stairs{})
	}
	f := l.members[member].out.F
	l.layers[layer].add(f[1], f[2])
}

// cover reports whether some point is nowhere worse.
func (s *stairs) cover(x, y float64) bool {
	at, here := slices.BinarySearch(s.x, x)
	if !here {
		at--
	}
	return at >= 0 && s.y[at] <= y
}

// add puts in a point that is not covered, in place of those that it covers.
func (s *stairs) add(x, y float64) {
	at, _ := slices.BinarySearch(s.x, x)
	end := at
	for end < len(s.y) && s.y[end] >= y {
		end++
	}
	if end > at {
		s.x[at], s.y[at] = x, y
		s.x, s.y = slices.Delete(s.x, at+1, end), slices.Delete(s.y, at+1, end)
		return
	}
	s.x, s.y = slices.Insert(s.x, at, x), slices.Insert(s.y, at, y)
}
