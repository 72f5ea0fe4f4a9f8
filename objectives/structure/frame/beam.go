package frame

import (
	"math"

	"forkfront/kinematics/plane"
)

// Rigidity is the section of a beam: E A in N, E I and G J in N·mm². Spin is the share of its torsional stiffness with
// which each of its ends resists rotation about its axis by itself.
type Rigidity[T plane.Scalar] struct {
	Axial, Bending, Torsion T
	Spin                    float64
}

// RigidityOf is that of a round section with a modulus of elasticity in MPa, an area in mm² and a second moment
// in mm⁴. The shear modulus is that of a Poisson's ratio of 0.3.
func RigidityOf[T plane.Scalar](young float64, area, inertia T) Rigidity[T] {
	e := plane.Lift[T](young)
	return Rigidity[T]{Axial: e * area, Bending: e * inertia, Torsion: plane.Lift[T](young/2.6*2) * inertia}
}

// axesOf are three unit vectors square to each other, the first from a to b, and the length in mm.
func axesOf[T plane.Scalar](a, b [3]T) (axes [3][3]T, length T) {
	x := [3]T{b[0] - a[0], b[1] - a[1], b[2] - a[2]}
	length = plane.Sqrt(x[0]*x[0] + x[1]*x[1] + x[2]*x[2])
	for i := range x {
		x[i] /= length
	}
	aside := [3]T{0, 0, 1}
	if math.Abs(plane.Real(x[2])) > 0.9 {
		aside = [3]T{1, 0, 0}
	}
	y := product(aside, x)
	size := plane.Sqrt(y[0]*y[0] + y[1]*y[1] + y[2]*y[2])
	for i := range y {
		y[i] /= size
	}
	return [3][3]T{x, y, product(x, y)}, length
}

func product[T plane.Scalar](a, b [3]T) [3]T {
	return [3]T{a[1]*b[2] - a[2]*b[1], a[2]*b[0] - a[0]*b[2], a[0]*b[1] - a[1]*b[0]}
}

// beamStiffness is the textbooks' 12 × 12 matrix of a beam along its first axis: translations and rotations of one
// end, then of the other.
func beamStiffness[T plane.Scalar](r Rigidity[T], l T) (k [12][12]T) {
	pair := func(i, j int, v T) {
		k[i][i] += v
		k[j][j] += v
		k[i][j] -= v
		k[j][i] -= v
	}
	pair(0, 6, r.Axial/l)
	pair(3, 9, r.Torsion/l)
	spin := plane.Lift[T](r.Spin)
	k[3][3] += spin * r.Torsion / l
	k[9][9] += spin * r.Torsion / l
	for way, sign := range [2]T{1, -1} {
		w0, w1 := 1+way, 7+way // translations across
		t0, t1 := 5-way, 11-way
		pair(w0, w1, 12*r.Bending/(l*l*l))
		six := sign * 6 * r.Bending / (l * l)
		for _, t := range [2]int{t0, t1} {
			k[w0][t], k[t][w0] = k[w0][t]+six, k[t][w0]+six
			k[w1][t], k[t][w1] = k[w1][t]-six, k[t][w1]-six
		}
		k[t0][t0] += 4 * r.Bending / l
		k[t1][t1] += 4 * r.Bending / l
		k[t0][t1] += 2 * r.Bending / l
		k[t1][t0] += 2 * r.Bending / l
	}
	return k
}
