// Package matrix has small dense matrices, as slices of rows: principal axes of symmetric ones and steps in their coordinates.
package matrix

import "math"

// Eigenvectors are those of a symmetric matrix, one per column, by Jacobi's cyclic rotations (Golub and Van Loan,
// Matrix Computations, 8.5). It overwrites the matrix.
func Eigenvectors(c [][]float64) [][]float64 {
	n := len(c)
	v := Zeros(n, n)
	for i := range v {
		v[i][i] = 1
	}
	const sweeps = 12 // convergence is quadratic; six suffice for most
	for range sweeps {
		off := 0.0
		for i := range n {
			for j := range i {
				off += c[i][j] * c[i][j]
			}
		}
		if off < 1e-24 {
			break
		}
		for p := range n {
			for q := p + 1; q < n; q++ {
				if c[p][q] != 0 {
					annihilate(c, v, p, q)
				}
			}
		}
	}
	return v
}

// annihilate turns the axes p and q so that c[p][q] becomes 0.
func annihilate(c, v [][]float64, p, q int) {
	theta := (c[q][q] - c[p][p]) / (2 * c[p][q])
	t := 1 / (math.Abs(theta) + math.Hypot(theta, 1))
	if theta < 0 {
		t = -t
	}
	cos := 1 / math.Hypot(t, 1)
	sin := t * cos
	for k := range c {
		c[k][p], c[k][q] = cos*c[k][p]-sin*c[k][q], sin*c[k][p]+cos*c[k][q]
		v[k][p], v[k][q] = cos*v[k][p]-sin*v[k][q], sin*v[k][p]+cos*v[k][q]
	}
	for k := range c {
		c[p][k], c[q][k] = cos*c[p][k]-sin*c[q][k], sin*c[p][k]+cos*c[q][k]
	}
}

// Turned returns a step in the coordinates of orthonormal axes, the columns of a square matrix, or one in those back in the variables.
func Turned(axes [][]float64, step []float64, into bool) []float64 {
	out := make([]float64, len(step))
	for i, row := range axes {
		for j, a := range row {
			if into {
				out[j] += a * step[i]
			} else {
				out[i] += a * step[j]
			}
		}
	}
	return out
}

// Zeros is a matrix of zeros; its rows lie side by side in memory.
func Zeros(rows, columns int) [][]float64 {
	g, slab := make([][]float64, rows), make([]float64, rows*columns)
	for i := range g {
		g[i], slab = slab[:columns:columns], slab[columns:]
	}
	return g
}

// Dot is the scalar product of two vectors of one length.
func Dot(a, b []float64) float64 {
	sum := 0.0
	for i, v := range a {
		sum += v * b[i]
	}
	return sum
}
