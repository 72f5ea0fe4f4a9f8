package kinematics

import "math"

// dense is a small square system of linear equations, factored in place by elimination with
// partial pivoting. Its memory is reused: nothing is allocated once the size is known.
type dense[T Scalar] struct {
	n     int
	a     []T // row by row
	pivot []int
	odd   bool // an odd number of rows were exchanged
}

// size sets the number of equations and clears them.
func (d *dense[T]) size(n int) {
	d.n = n
	d.a = resize(d.a, n*n)
	d.pivot = resize(d.pivot, n)
	clear(d.a)
}

// use takes memory of the caller's for n equations, which has to be clear: n² entries and n pivots.
func (d *dense[T]) use(n int, a []T, pivot []int) { d.n, d.a, d.pivot = n, a, pivot }

func (d *dense[T]) at(row, column int) *T { return &d.a[row*d.n+column] }

// factor splits the matrix into triangles. It is false where a pivot vanishes exactly, or is no
// number.
func (d *dense[T]) factor() bool {
	d.odd = false
	for c := range d.n {
		d.exchange(c, d.largest(c))
		head := *d.at(c, c)
		if !(math.Abs(Real(head)) > 0) || math.IsInf(Real(head), 0) {
			return false
		}
		inverse := Inverse(head)
		for r := c + 1; r < d.n; r++ {
			f := *d.at(r, c) * inverse
			*d.at(r, c) = f
			for k := c + 1; k < d.n; k++ {
				*d.at(r, k) -= f * *d.at(c, k)
			}
		}
	}
	return true
}

// largest is the row from the diagonal on with the largest entry of a column.
func (d *dense[T]) largest(column int) int {
	best := column
	for r := column + 1; r < d.n; r++ {
		if math.Abs(Real(*d.at(r, column))) > math.Abs(Real(*d.at(best, column))) {
			best = r
		}
	}
	return best
}

func (d *dense[T]) exchange(row, with int) {
	d.pivot[row] = with
	if row == with {
		return
	}
	d.odd = !d.odd
	for k := range d.n {
		a, b := d.at(row, k), d.at(with, k)
		*a, *b = *b, *a
	}
}

// solve replaces the right-hand side x, of n entries, by the solution.
func (d *dense[T]) solve(x []T) {
	for r, p := range d.pivot {
		x[r], x[p] = x[p], x[r]
	}
	for r := range d.n {
		for k := range r {
			x[r] -= *d.at(r, k) * x[k]
		}
	}
	for r := d.n - 1; r >= 0; r-- {
		for k := r + 1; k < d.n; k++ {
			x[r] -= *d.at(r, k) * x[k]
		}
		x[r] *= Inverse(*d.at(r, r))
	}
}

// det is the determinant of the factored matrix.
func (d *dense[T]) det() T {
	det := Lift[T](1)
	if d.odd {
		det = Lift[T](-1)
	}
	for i := range d.n {
		det *= *d.at(i, i)
	}
	return det
}

// resize is a slice of n entries in the memory of s where that is enough; the entries are not cleared.
func resize[E any](s []E, n int) []E {
	if cap(s) < n {
		return make([]E, n)
	}
	return s[:n]
}
