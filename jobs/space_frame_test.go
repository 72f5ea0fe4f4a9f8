package jobs

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/mat"
)

// spaceFrame is a frame of straight beams in space, solved by the displacement method with dense matrices: six
// displacements per node (three translations in mm along the axes, three rotations in radians about them).
type spaceFrame struct {
	at     [][3]float64
	dof    [][6]int // number of each displacement of a node; -1: held
	count  int
	bars   []frameBar
	solved *mat.VecDense
}

// frameBar is a round beam: E A in N, E I and G J in N·mm².
type frameBar struct {
	ends                      [2]int
	axial, bending, torsional float64
}

const (
	shaftMPa = 199950.0 // 4130, MIL-HDBK-5J
	poisson  = 0.3
)

func (f *spaceFrame) node(at [3]float64) int {
	var own [6]int
	for i := range own {
		own[i] = f.count
		f.count++
	}
	f.at, f.dof = append(f.at, at), append(f.dof, own)
	return len(f.at) - 1
}

// hold takes displacements of a node out.
func (f *spaceFrame) hold(node int, which ...int) {
	for _, i := range which {
		f.replace(f.dof[node][i], -1)
	}
}

// tie makes displacements of two nodes one.
func (f *spaceFrame) tie(a, b int, which ...int) {
	for _, i := range which {
		f.replace(f.dof[a][i], f.dof[b][i])
	}
}

func (f *spaceFrame) replace(old, now int) {
	if old < 0 {
		return
	}
	for n := range f.dof {
		for i := range f.dof[n] {
			if f.dof[n][i] == old {
				f.dof[n][i] = now
			}
		}
	}
}

func (f *spaceFrame) round(a, b int, young, outside, inside, share float64) int {
	area := math.Pi / 4 * (outside*outside - inside*inside) * share
	inertia := math.Pi / 64 * (math.Pow(outside, 4) - math.Pow(inside, 4)) * share
	f.bars = append(f.bars, frameBar{[2]int{a, b}, young * area, young * inertia, young / (2 + 2*poisson) * 2 * inertia})
	return len(f.bars) - 1
}

// turned is the 12 × 12 matrix that turns displacements into a bar's own axes, the first along it, and its length.
func (f *spaceFrame) turned(b *frameBar) (*mat.Dense, float64) {
	var u [3]float64
	length := 0.0
	for i := range u {
		u[i] = f.at[b.ends[1]][i] - f.at[b.ends[0]][i]
		length += u[i] * u[i]
	}
	length = math.Sqrt(length)
	x := mat.NewVecDense(3, []float64{u[0] / length, u[1] / length, u[2] / length})
	// Any two directions square to the bar do for a round section: its left singular vectors.
	var q mat.Dense
	axes := mat.NewDense(3, 3, nil)
	var svd mat.SVD
	svd.Factorize(x, mat.SVDFull)
	svd.UTo(&q)
	axes.Copy(q.T())
	for j := range 3 {
		axes.Set(0, j, x.AtVec(j))
	}
	if mat.Det(axes) < 0 {
		for j := range 3 {
			axes.Set(2, j, -axes.At(2, j))
		}
	}
	r := mat.NewDense(12, 12, nil)
	for k := range 4 {
		for i := range 3 {
			for j := range 3 {
				r.Set(3*k+i, 3*k+j, axes.At(i, j))
			}
		}
	}
	return r, length
}

// ownStiffness is the stiffness of a slender bar in its own axes, from the slope-deflection equations.
func ownStiffness(b *frameBar, l float64) *mat.Dense {
	k := mat.NewDense(12, 12, nil)
	spring := func(i, j int, v float64) {
		k.Set(i, i, v)
		k.Set(j, j, v)
		k.Set(i, j, -v)
		k.Set(j, i, -v)
	}
	spring(0, 6, b.axial/l)
	spring(3, 9, b.torsional/l)
	// Displacements v1, θ1, v2, θ2 in the plane of each second axis; θ = dv/dx.
	bend := [4][4]float64{{12, 6 * l, -12, 6 * l}, {6 * l, 4 * l * l, -6 * l, 2 * l * l}, {-12, -6 * l, 12, -6 * l}, {6 * l, 2 * l * l, -6 * l, 4 * l * l}}
	for _, plane := range []struct {
		at   [4]int
		sign float64
	}{{[4]int{1, 5, 7, 11}, 1}, {[4]int{2, 4, 8, 10}, -1}} {
		for i := range 4 {
			for j := range 4 {
				v := bend[i][j] * b.bending / (l * l * l)
				if i%2 == 1 {
					v *= plane.sign
				}
				if j%2 == 1 {
					v *= plane.sign
				}
				k.Set(plane.at[i], plane.at[j], v)
			}
		}
	}
	return k
}

// solve finds the displacements under loads, six per node.
func (f *spaceFrame) solve(t testing.TB, loads map[int][6]float64) {
	t.Helper()
	number := map[int]int{}
	for _, d := range f.dof {
		for _, i := range d {
			if _, known := number[i]; i >= 0 && !known {
				number[i] = len(number)
			}
		}
	}
	for n := range f.dof {
		for i, old := range f.dof[n] {
			if old >= 0 {
				f.dof[n][i] = number[old]
			}
		}
	}
	f.count = len(number)
	k, p := mat.NewDense(f.count, f.count, nil), mat.NewVecDense(f.count, nil)
	for i := range f.bars {
		b := &f.bars[i]
		r, l := f.turned(b)
		var by mat.Dense
		by.Mul(r.T(), ownStiffness(b, l))
		by.Mul(&by, r)
		at := f.numbers(b)
		for x, row := range at {
			for y, col := range at {
				if row >= 0 && col >= 0 {
					k.Set(row, col, k.At(row, col)+by.At(x, y))
				}
			}
		}
	}
	for n, l := range loads {
		for i, v := range l {
			if d := f.dof[n][i]; d >= 0 {
				p.SetVec(d, p.AtVec(d)+v)
			}
		}
	}
	f.solved = mat.NewVecDense(f.count, nil)
	if err := f.solved.SolveVec(k, p); err != nil {
		t.Fatalf("the space frame is loose: %v", err)
	}
}

func (f *spaceFrame) numbers(b *frameBar) []int {
	return append(append([]int(nil), f.dof[b.ends[0]][:]...), f.dof[b.ends[1]][:]...)
}

// moved is a displacement of a node.
func (f *spaceFrame) moved(node, i int) float64 {
	if d := f.dof[node][i]; d >= 0 {
		return f.solved.AtVec(d)
	}
	return 0
}

// inside is what a bar bears at its ends, in its own axes: forces in N and moments in N·mm.
func (f *spaceFrame) inside(bar int) *mat.VecDense {
	b := &f.bars[bar]
	u := mat.NewVecDense(12, nil)
	for i, d := range f.numbers(b) {
		if d >= 0 {
			u.SetVec(i, f.solved.AtVec(d))
		}
	}
	r, l := f.turned(b)
	var own, out mat.VecDense
	own.MulVec(r, u)
	out.MulVec(ownStiffness(b, l), &own)
	return &out
}
