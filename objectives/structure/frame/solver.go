package frame

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// Solver finds the displacements of a frame under any number of loads.
type Solver struct {
	number [][6]int
	scale  []float64 // of each unknown: 1 over the root of its stiffness
	factor mat.Cholesky
}

// loose is the condition of the stiffness, scaled to a diagonal of 1, beyond which a frame is taken for loose:
// frames of tubes and shafts stay below 1e9, and rounding makes of a mechanism about 1e16.
const loose = 1e13

// Factor prepares a frame for loads. It returns nil where the frame is loose.
func Factor(f *Frame[float64]) *Solver {
	if f.size == 0 {
		return nil
	}
	k := mat.NewSymDense(f.size, nil)
	for i := range f.beams {
		assemble(f, k, &f.beams[i])
	}
	for i := range f.springs {
		connect(f, k, &f.springs[i])
	}
	s := &Solver{number: f.number, scale: make([]float64, f.size)}
	for i := range s.scale {
		if !(k.At(i, i) > 0) {
			return nil
		}
		s.scale[i] = 1 / math.Sqrt(k.At(i, i))
	}
	for i := range s.scale {
		for j := i; j < f.size; j++ {
			k.SetSym(i, j, k.At(i, j)*s.scale[i]*s.scale[j])
		}
	}
	if !s.factor.Factorize(k) || !(s.factor.Cond() < loose) {
		return nil
	}
	return s
}

func assemble(f *Frame[float64], k *mat.SymDense, b *beam[float64]) {
	axes, length := axesOf(f.at[b.ends[0]], f.at[b.ends[1]])
	local := beamStiffness(b.r, length)
	numbers := f.numbers(b)
	for i, row := range numbers {
		for j, col := range numbers {
			if row == held || col < row {
				continue
			}
			sum := 0.0
			for p := range 3 {
				for q := range 3 {
					sum += axes[p][i%3] * local[i/3*3+p][j/3*3+q] * axes[q][j%3]
				}
			}
			k.SetSym(row, col, k.At(row, col)+sum)
		}
	}
}

// connect adds a spring.
func connect(f *Frame[float64], k *mat.SymDense, s *spring[float64]) {
	for i := range 6 {
		for j := range 6 {
			row, col := f.number[s.ends[i/3]][i%3], f.number[s.ends[j/3]][j%3]
			if row == held || col < row {
				continue
			}
			by := s.rate * s.way[i%3] * s.way[j%3]
			if i/3 != j/3 {
				by = -by
			}
			k.SetSym(row, col, k.At(row, col)+by)
		}
	}
}

// Solve finds the displacements of all nodes under loads by node.
func (s *Solver) Solve(loads map[int]Load[float64]) Displacements[float64] {
	x := mat.NewVecDense(len(s.scale), nil)
	for node, load := range loads {
		for i, n := range s.number[node] {
			if n != held {
				x.SetVec(n, x.AtVec(n)+load[i]*s.scale[n])
			}
		}
	}
	return s.displacements(x)
}

// displacements replaces scaled forces on the unknowns by what they cause.
func (s *Solver) displacements(x *mat.VecDense) Displacements[float64] {
	if err := s.factor.SolveVecTo(x, x); err != nil {
		panic("frame: solved before it was factored: " + err.Error())
	}
	d := make(Displacements[float64], len(s.number))
	for node := range d {
		for i, n := range s.number[node] {
			if n != held {
				d[node][i] = x.AtVec(n) * s.scale[n]
			}
		}
	}
	return d
}

// Differentiate gives displacements the derivatives of their frame and of its loads, all of which are times step: from
// K u = f follows K u′ = f′ − K′ u.
func (s *Solver) Differentiate(f *Frame[complex128], loads map[int]Load[complex128], moved Displacements[float64], step float64) Displacements[complex128] {
	d := make(Displacements[complex128], len(moved))
	for node := range moved {
		for i, u := range moved[node] {
			d[node][i] = complex(u, 0)
		}
	}
	x := mat.NewVecDense(len(s.scale), nil)
	add := func(node int, by *Load[complex128], sign float64) {
		for i, n := range s.number[node] {
			if n != held {
				x.SetVec(n, x.AtVec(n)+sign*imag(by[i])/step*s.scale[n])
			}
		}
	}
	for node, load := range loads {
		add(node, &load, 1)
	}
	for b := range f.beams {
		for end := range 2 {
			by := f.onBeam(b, end, d)
			add(f.beams[b].ends[end], &by, -1)
		}
	}
	for i := range f.springs {
		force := f.SpringForce(i, d)
		for end, sign := range [2]complex128{-1, 1} {
			var by Load[complex128]
			for k, way := range f.springs[i].way {
				by[k] = sign * force * way
			}
			add(f.springs[i].ends[end], &by, -1)
		}
	}
	for node, slope := range s.displacements(x) {
		for i := range slope {
			d[node][i] += complex(0, slope[i]*step)
		}
	}
	return d
}
