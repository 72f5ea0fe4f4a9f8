package plane

import "math"

// LU is a small square system of linear equations, factored in place by elimination with
// partial pivoting. Its memory is reused: nothing is allocated once the size is known.
type LU[T Scalar] struct {
	n     int
	a     []T // row by row
	pivot []int
	odd   bool // an odd number of rows were exchanged
}

// Reset sets the number of equations and clears them.
func (d *LU[T]) Reset(n int) {
	d.n = n
	d.a = Resize(d.a, n*n)
	d.pivot = Resize(d.pivot, n)
	clear(d.a)
}

// LUOver is a system of n equations in memory of the caller's, which has to be clear: n² entries and n
// pivots.
func LUOver[T Scalar](n int, a []T, pivot []int) LU[T] { return LU[T]{n: n, a: a, pivot: pivot} }

// At is an entry of the matrix.
func (d *LU[T]) At(row, column int) *T { return &d.a[row*d.n+column] }

// Factor splits the matrix into triangles. It is false where a pivot vanishes exactly, or is no
// number.
func (d *LU[T]) Factor() bool {
	n := d.n
	d.odd = false
	for c := range n {
		if best := d.largest(c); best != c {
			d.exchange(c, best)
		} else {
			d.pivot[c] = c
		}
		top := d.a[c*n : (c+1)*n]
		head := top[c]
		if !(math.Abs(Real(head)) > 0) || math.IsInf(Real(head), 0) {
			return false
		}
		inverse := Inverse(head)
		top = top[c+1:]
		for r := c + 1; r < n; r++ {
			row := d.a[r*n+c : (r+1)*n]
			if row[0] == 0 {
				continue // as most are where few unknowns enter an equation
			}
			f := row[0] * inverse
			row[0] = f
			row = row[1:][:len(top)]
			for k, x := range top {
				row[k] -= f * x
			}
		}
	}
	return true
}

// largest is the row from the diagonal on with the largest entry of a column.
func (d *LU[T]) largest(column int) int {
	best, size := column, 0.0
	for r, at := column, column*d.n+column; r < d.n; r, at = r+1, at+d.n {
		if x := math.Abs(Real(d.a[at])); x > size {
			best, size = r, x
		}
	}
	return best
}

func (d *LU[T]) exchange(row, with int) {
	d.pivot[row] = with
	d.odd = !d.odd
	a, b := d.a[row*d.n:(row+1)*d.n], d.a[with*d.n:(with+1)*d.n]
	for k, x := range a {
		a[k], b[k] = b[k], x
	}
}

// Solve replaces the right-hand side x, of n entries, by the solution.
func (d *LU[T]) Solve(x []T) {
	n := d.n
	x = x[:n]
	for r, p := range d.pivot {
		x[r], x[p] = x[p], x[r]
	}
	for r := range x {
		v := x[r]
		for k, l := range d.a[r*n : r*n+r] {
			v -= l * x[k]
		}
		x[r] = v
	}
	for r := n - 1; r >= 0; r-- {
		v, right := x[r], x[r+1:]
		for k, u := range d.a[r*n+r+1 : (r+1)*n] {
			v -= u * right[k]
		}
		x[r] = v * Inverse(d.a[r*n+r])
	}
}

// SolveTransposed is Solve with the transpose of the matrix.
func (d *LU[T]) SolveTransposed(x []T) {
	n := d.n
	x = x[:n]
	for r := range x {
		v := x[r] * Inverse(d.a[r*n+r])
		x[r] = v
		for k, u := range d.a[r*n+r+1 : (r+1)*n] {
			x[r+1+k] -= u * v
		}
	}
	for r := n - 1; r >= 0; r-- {
		v := x[r]
		for k, l := range d.a[r*n : r*n+r] {
			x[k] -= l * v
		}
	}
	for r := n - 1; r >= 0; r-- {
		p := d.pivot[r]
		x[r], x[p] = x[p], x[r]
	}
}

// Det is the determinant of the factored matrix.
func (d *LU[T]) Det() T {
	det := Lift[T](1)
	if d.odd {
		det = Lift[T](-1)
	}
	for i := range d.n {
		det *= *d.At(i, i)
	}
	return det
}

// Resize is a slice of n entries in the memory of s where that is enough; the entries are not cleared.
func Resize[E any](s []E, n int) []E {
	if cap(s) < n {
		return make([]E, n)
	}
	return s[:n]
}
