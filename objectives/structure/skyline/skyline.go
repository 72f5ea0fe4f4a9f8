package skyline

import "forkfront/kinematics/plane"

// Pattern says which entries of a symmetric matrix are stored: of each row those from its first one that is not
// zero up to the diagonal.
type Pattern struct {
	first []int // column, by row
	start []int // where in the stored entries column 0 of a row would be
	size  int   // stored entries
}

// Reset makes it the pattern of n equations that are not coupled yet.
func (p *Pattern) Reset(n int) {
	p.first, p.start = plane.Resize(p.first, n), plane.Resize(p.start, n)
	for r := range n {
		p.first[r] = r
	}
}

// Couple makes room for the entry of two unknowns.
func (p *Pattern) Couple(a, b int) {
	row, column := max(a, b), min(a, b)
	p.first[row] = min(p.first[row], column)
}

// Close lays out the entries once all unknowns are coupled.
func (p *Pattern) Close() {
	p.size = 0
	for r, first := range p.first {
		p.start[r] = p.size - first
		p.size += r - first + 1
	}
}

// Len is the number of equations.
func (p *Pattern) Len() int { return len(p.first) }

// Work is the number of products that a factorization takes.
func (p *Pattern) Work() (products int) {
	for r, first := range p.first {
		for c := first + 1; c < r; c++ {
			products += c - max(first, p.first[c])
		}
		products += r - first
	}
	return products
}

// Stored is the number of stored entries.
func (p *Pattern) Stored() int { return p.size }

// At is where the entry of two unknowns is stored.
func (p *Pattern) At(a, b int) int { return p.start[max(a, b)] + min(a, b) }

// Matrix is a symmetric positive definite matrix of a pattern.
type Matrix[T plane.Scalar] struct {
	pattern *Pattern
	Entry   []T // stored entries; see Pattern.At
	inverse []T // of the pivots

	plain *Matrix[float64] // see Adopt
	slope []float64
}

// Adopt gives a matrix of numbers that carry a derivative the factors of the same matrix without it, until the next call of Reset.
// Factor has nothing left to do then, and SolveAdopted takes the place of Solve.
func (m *Matrix[T]) Adopt(plain *Matrix[float64]) { m.plain = plain }

// Reset clears the matrix and gives it a pattern.
func (m *Matrix[T]) Reset(p *Pattern) {
	m.pattern, m.plain = p, nil
	m.Entry, m.inverse = plane.Resize(m.Entry, p.size), plane.Resize(m.inverse, len(p.first))
	clear(m.Entry)
}

// leastPivot is the share of its diagonal entry that a pivot must keep: rounding leaves about 1e-16 of a singular matrix.
const leastPivot = 1e-13

// Factor replaces the matrix A by L and D of A = L D Lᵀ. It is false where A is not positive definite, or so nearly
// singular that its solutions are rounding.
func (m *Matrix[T]) Factor() bool {
	if m.plain != nil {
		return true
	}
	p := m.pattern
	for r, first := range p.first {
		row := m.Entry[p.start[r]+first : p.start[r]+r+1] // columns first to r
		for c := first + 1; c < r; c++ {
			from := max(first, p.first[c])
			above := m.Entry[p.start[c]+from : p.start[c]+c]
			mine := row[from-first : c-first]
			mine = mine[:len(above)]
			var sum T
			for k, v := range above {
				sum += v * mine[k]
			}
			row[c-first] -= sum
		}
		pivot := row[r-first]
		least := leastPivot * plane.Real(pivot)
		for k, v := range row[:r-first] {
			l := v * m.inverse[first+k]
			pivot -= v * l
			row[k] = l
		}
		if !(plane.Real(pivot) > max(0, least)) {
			return false
		}
		m.inverse[r] = plane.Inverse(pivot)
	}
	return true
}

// Solve replaces the right-hand side x by the solution.
func (m *Matrix[T]) Solve(x []T) {
	p := m.pattern
	for r, first := range p.first {
		row := m.Entry[p.start[r]+first : p.start[r]+r]
		with := x[first:r]
		with = with[:len(row)]
		var sum T
		for k, v := range row {
			sum += v * with[k]
		}
		x[r] -= sum
	}
	for r := range x {
		x[r] *= m.inverse[r]
	}
	for r := len(x) - 1; r >= 0; r-- {
		first, v := p.first[r], x[r]
		row := m.Entry[p.start[r]+first : p.start[r]+r]
		with := x[first:r]
		with = with[:len(row)]
		for k, l := range row {
			with[k] -= l * v
		}
	}
}

// SolveAdopted is Solve with the factors of the plain matrix, where value is the solution without derivatives: x′ follows from
// A x′ = b′ − A′ x. It returns false, and does nothing, where no factors were adopted.
func (m *Matrix[T]) SolveAdopted(x []T, value []float64) bool {
	if m.plain == nil {
		return false
	}
	p, entries, with := m.pattern, *any(&m.Entry).(*[]complex128), *any(&x).(*[]complex128)
	m.slope = plane.Resize(m.slope, len(x))
	for i, v := range with {
		m.slope[i] = imag(v)
	}
	for r, first := range p.first {
		row := entries[p.start[r]+first : p.start[r]+r]
		above, below := value[first:r], m.slope[first:r]
		above, below = above[:len(row)], below[:len(row)]
		at := value[r]
		sum := imag(entries[p.start[r]+r]) * at
		for k, v := range row {
			slope := imag(v)
			sum += slope * above[k]
			below[k] -= slope * at
		}
		m.slope[r] -= sum
	}
	m.plain.Solve(m.slope)
	for i := range with {
		with[i] = complex(value[i], m.slope[i])
	}
	return true
}
