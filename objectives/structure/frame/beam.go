package frame

import "math"

// Rigidity is the section of a beam: E A in N, E I and G J in N·mm². Spin is the share of its torsional stiffness with
// which each of its ends resists rotation about its axis by itself.
type Rigidity struct{ Axial, Bending, Torsion, Spin float64 }

// RigidityOf is that of a round section with a modulus of elasticity in MPa, an area in mm² and a second moment
// in mm⁴. The shear modulus is that of a Poisson's ratio of 0.3.
func RigidityOf(young, area, inertia float64) Rigidity {
	return Rigidity{Axial: young * area, Bending: young * inertia, Torsion: young / 2.6 * 2 * inertia}
}

// axesOf are three unit vectors square to each other, the first from a to b, and the length in mm.
func axesOf(a, b [3]float64) (axes [3][3]float64, length float64) {
	x := [3]float64{b[0] - a[0], b[1] - a[1], b[2] - a[2]}
	length = math.Sqrt(x[0]*x[0] + x[1]*x[1] + x[2]*x[2])
	for i := range x {
		x[i] /= length
	}
	aside := [3]float64{0, 0, 1}
	if math.Abs(x[2]) > 0.9 {
		aside = [3]float64{1, 0, 0}
	}
	y := product(aside, x)
	size := math.Sqrt(y[0]*y[0] + y[1]*y[1] + y[2]*y[2])
	for i := range y {
		y[i] /= size
	}
	return [3][3]float64{x, y, product(x, y)}, length
}

func product(a, b [3]float64) [3]float64 {
	return [3]float64{a[1]*b[2] - a[2]*b[1], a[2]*b[0] - a[0]*b[2], a[0]*b[1] - a[1]*b[0]}
}

// beamStiffness is the textbooks' 12 × 12 matrix of a beam along its first axis: translations and rotations of one
// end, then of the other.
func beamStiffness(r Rigidity, l float64) (k [12][12]float64) {
	pair := func(i, j int, v float64) {
		k[i][i] += v
		k[j][j] += v
		k[i][j] -= v
		k[j][i] -= v
	}
	pair(0, 6, r.Axial/l)
	pair(3, 9, r.Torsion/l)
	k[3][3] += r.Spin * r.Torsion / l
	k[9][9] += r.Spin * r.Torsion / l
	for plane, sign := range []float64{1, -1} {
		w0, w1 := 1+plane, 7+plane // way across
		t0, t1 := 5-plane, 11-plane
		pair(w0, w1, 12*r.Bending/(l*l*l))
		six := sign * 6 * r.Bending / (l * l)
		for _, c := range [][3]float64{{float64(w0), float64(t0), six}, {float64(w0), float64(t1), six}, {float64(w1), float64(t0), -six}, {float64(w1), float64(t1), -six}} {
			i, j := int(c[0]), int(c[1])
			k[i][j] += c[2]
			k[j][i] += c[2]
		}
		k[t0][t0] += 4 * r.Bending / l
		k[t1][t1] += 4 * r.Bending / l
		k[t0][t1] += 2 * r.Bending / l
		k[t1][t0] += 2 * r.Bending / l
	}
	return k
}
