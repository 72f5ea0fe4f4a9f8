package optimize

import "math"

// space maps variables to 0..1 each and back. Discrete variables sit at k/(n−1).
type space struct{ variables []Variable }

// natural writes the values in natural units that the scaled ones stand for.
func (s *space) natural(x, u []float64) {
	for i := range s.variables {
		v := &s.variables[i]
		if v.Levels > 0 {
			x[i] = math.Round(u[i] * v.High)
			continue
		}
		x[i] = min(max(v.Low+u[i]*(v.High-v.Low), v.Low), v.High)
	}
}

// scaled writes the scaled values of x and moves x to the bounds where it lies outside.
func (s *space) scaled(u, x []float64) {
	for i := range s.variables {
		v := &s.variables[i]
		if v.Levels > 0 {
			x[i] = math.Round(x[i])
		}
		x[i] = min(max(x[i], v.Low), v.High)
		u[i] = 0
		if v.High > v.Low {
			u[i] = (x[i] - v.Low) / (v.High - v.Low)
		}
	}
}

// snap moves discrete entries of u onto their levels.
func (s *space) snap(u []float64) {
	for i := range s.variables {
		if v := &s.variables[i]; v.Levels > 1 {
			u[i] = math.Round(u[i]*v.High) / v.High
		} else if v.Levels == 1 {
			u[i] = 0
		}
	}
}

// continuous lists the variables that have a derivative.
func (s *space) continuous() []int {
	var at []int
	for i := range s.variables {
		if v := &s.variables[i]; v.Levels == 0 && v.High > v.Low {
			at = append(at, i)
		}
	}
	return at
}
