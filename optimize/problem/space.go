package problem

import "math"

// Space maps variables to 0..1 each and back. Discrete variables sit at k/(n−1). Slices of values have one entry per variable.
type Space struct{ Variables []Variable }

// Natural writes to x the values in natural units, within the bounds, that the scaled ones u stand for.
func (s *Space) Natural(x, u []float64) {
	for i := range s.Variables {
		v := &s.Variables[i]
		if v.Levels > 0 {
			x[i] = math.Round(u[i] * v.High)
			continue
		}
		x[i] = min(max(v.Low+u[i]*(v.High-v.Low), v.Low), v.High)
	}
}

// Scaled writes to u the scaled values of x, in natural units, and moves x onto levels and to the bounds where it lies outside.
func (s *Space) Scaled(u, x []float64) {
	for i := range s.Variables {
		v := &s.Variables[i]
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

// Snap moves discrete entries of u onto their levels.
func (s *Space) Snap(u []float64) {
	for i := range s.Variables {
		if v := &s.Variables[i]; v.Levels > 1 {
			u[i] = math.Round(u[i]*v.High) / v.High
		} else if v.Levels == 1 {
			u[i] = 0
		}
	}
}

// Continuous lists the places of the variables that have a derivative: they are continuous and their bounds differ.
func (s *Space) Continuous() []int {
	var at []int
	for i := range s.Variables {
		if v := &s.Variables[i]; v.Levels == 0 && v.High > v.Low {
			at = append(at, i)
		}
	}
	return at
}
