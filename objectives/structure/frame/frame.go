package frame

import "math"

// Frame is a space frame of straight beams, solved by stiffness: six displacements a node, three
// ways along the axes of the fork frame and the third across (along × ahead), and three turns about
// them. Displacements that are held are −1.
type Frame struct {
	at     [][3]float64
	Number [][6]int // of each displacement of a node among the unknowns; −1: held
	Size   int
	Rows   [][]float64 // stiffness, N/mm, N, N·mm
}

const (
	Held = -1
	Own  = -2
)

// Node adds a node; displacements not held or shared get numbers of their own.
func (f *Frame) Node(at [3]float64, as [6]int) int {
	for i := range as {
		if as[i] == Own {
			as[i] = f.Size
			f.Size++
		}
	}
	f.at = append(f.at, at)
	f.Number = append(f.Number, as)
	return len(f.at) - 1
}

var Free = [6]int{Own, Own, Own, Own, Own, Own}

// Rigidity is the section of a beam: modulus of elasticity times area and second moment, and a shear
// modulus for a Poisson's ratio of 0.3.
type Rigidity struct{ Axial, Bending, Torsion float64 }

func RigidityOf(young, area, inertia float64) Rigidity {
	return Rigidity{young * area, young * inertia, young / 2.6 * 2 * inertia}
}

// Beam adds the stiffness of a slender beam (Euler and Bernoulli) between two nodes.
func (f *Frame) Beam(a, b int, r Rigidity) {
	if f.Rows == nil || len(f.Rows) < f.Size {
		grownRows := make([][]float64, f.Size)
		for i := range grownRows {
			grownRows[i] = make([]float64, f.Size)
			if i < len(f.Rows) {
				copy(grownRows[i], f.Rows[i])
			}
		}
		f.Rows = grownRows
	}
	axes, length := axesOf(f.at[a], f.at[b])
	local := beamStiffness(r, length)
	var turned [12][12]float64 // the local stiffness in the frame's axes
	for i := range 12 {
		for j := range 12 {
			sum := 0.0
			for k := range 3 {
				for l := range 3 {
					sum += axes[k][i%3] * local[i/3*3+k][j/3*3+l] * axes[l][j%3]
				}
			}
			turned[i][j] = sum
		}
	}
	numbers := append(append([]int(nil), f.Number[a][:]...), f.Number[b][:]...)
	for i, row := range numbers {
		for j, col := range numbers {
			if row >= 0 && col >= 0 {
				f.Rows[row][col] += turned[i][j]
			}
		}
	}
}

// axesOf are three unit vectors, the first along the beam.
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

// beamStiffness is the textbooks' 12 × 12 matrix of a beam along its first axis: ways and turns of one
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

// Solve finds the displacements under forces and moments on the unknowns. It is false where the
// frame is loose. The stiffness is used up.
func (f *Frame) Solve(loads []float64) ([]float64, bool) {
	x := append([]float64(nil), loads...)
	for c := range f.Size {
		head := f.Rows[c][c]
		if !(head > 1e-9) { // symmetric and positive, or loose
			return nil, false
		}
		for r := c + 1; r < f.Size; r++ {
			by := f.Rows[r][c] / head
			if by == 0 {
				continue
			}
			for k := c; k < f.Size; k++ {
				f.Rows[r][k] -= by * f.Rows[c][k]
			}
			x[r] -= by * x[c]
		}
	}
	for r := f.Size - 1; r >= 0; r-- {
		for k := r + 1; k < f.Size; k++ {
			x[r] -= f.Rows[r][k] * x[k]
		}
		x[r] /= f.Rows[r][r]
	}
	return x, true
}
