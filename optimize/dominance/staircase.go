package dominance

import "slices"

// Staircase is the points of a plane, both columns minimised, that no other one dominates: X ascending,
// Y descending.
type Staircase struct{ X, Y []float64 }

// Covers reports whether some point is nowhere worse than (x, y).
func (s *Staircase) Covers(x, y float64) bool {
	at, here := slices.BinarySearch(s.X, x)
	if !here {
		at--
	}
	return at >= 0 && s.Y[at] <= y
}

// Find returns the range of points that (x, y) is nowhere worse than, and whether it is itself covered.
func (s *Staircase) Find(x, y float64) (from, to int, covered bool) {
	at, here := slices.BinarySearch(s.X, x)
	if at > 0 && s.Y[at-1] <= y || here && s.Y[at] <= y {
		return at, at, true
	}
	to = at
	for to < len(s.Y) && s.Y[to] >= y {
		to++
	}
	return at, to, false
}

// Replace replaces the points of a range that Place returned by (x, y).
func (s *Staircase) Replace(from, to int, x, y float64) {
	if to > from {
		s.X[from], s.Y[from] = x, y
		s.X, s.Y = slices.Delete(s.X, from+1, to), slices.Delete(s.Y, from+1, to)
		return
	}
	s.X, s.Y = slices.Insert(s.X, from, x), slices.Insert(s.Y, from, y)
}
