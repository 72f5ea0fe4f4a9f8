package variation

import (
	"forkfront/optimize/matrix"
	"forkfront/optimize/population"
	"forkfront/optimize/problem"
)

// axesMost is the number of variables up to which axes are computed: the time grows with the third power.
const axesMost = 50

// principalAxes returns the principal axes of a population, orthonormal columns over the variables; nil where there
// are too many variables or nothing varies. Discrete variables are axes of their own.
func principalAxes(s *problem.Space, population []*population.Member) [][]float64 {
	n := len(s.Variables)
	if n > axesMost {
		return nil
	}
	mean := make([]float64, n)
	for _, m := range population {
		for i, v := range m.U {
			mean[i] += v / float64(len(population))
		}
	}
	c, at, largest := matrix.Zeros(n, n), s.Continuous(), 0.0
	for _, i := range at {
		for _, j := range at {
			if j > i {
				continue
			}
			for _, m := range population {
				c[i][j] += (m.U[i] - mean[i]) * (m.U[j] - mean[j])
			}
			c[j][i] = c[i][j]
		}
		largest = max(largest, c[i][i])
	}
	if !(largest > 0) {
		return nil
	}
	for _, row := range c {
		for j := range row {
			row[j] /= largest
		}
	}
	return matrix.Eigenvectors(c)
}
