package skyline

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/mat"
)

// Random sparse positive definite systems against gonum's dense Cholesky factors, values and a derivative: with
// A x = b, dx = −A⁻¹ dA x.
func TestSkylineAgainstDense(t *testing.T) {
	r := rand.New(rand.NewPCG(15, 11))
	for range 50 {
		n := 1 + r.IntN(30)
		var p Pattern
		p.Reset(n)
		dense, slope := mat.NewSymDense(n, nil), mat.NewSymDense(n, nil)
		set := func(i, j int) {
			p.Couple(i, j)
			dense.SetSym(i, j, r.NormFloat64())
			slope.SetSym(i, j, r.NormFloat64())
		}
		for i := range n {
			set(i, i)
			dense.SetSym(i, i, 8+r.Float64())
			for range 2 {
				set(i, max(0, i-r.IntN(5)-1))
				dense.SetSym(i, i, 8+r.Float64())
			}
		}
		dense.SetSym(0, 0, 8)
		p.Close()
		var m, adopting Matrix[complex128]
		var plain Matrix[float64]
		m.Reset(&p)
		b := mat.NewVecDense(n, nil)
		x := make([]complex128, n)
		const step = 1e-40
		for i := range n {
			b.SetVec(i, r.NormFloat64())
			x[i] = complex(b.AtVec(i), 0)
			for j := range i + 1 {
				if dense.At(i, j) != 0 {
					m.Entry[p.At(j, i)] += complex(dense.At(i, j), step*slope.At(i, j))
				}
			}
		}
		adopting.Reset(&p)
		copy(adopting.Entry, m.Entry)
		plain.Reset(&p)
		for i, v := range m.Entry {
			plain.Entry[i] = real(v)
		}
		adopted, value := append([]complex128(nil), x...), append([]float64(nil), b.RawVector().Data...)
		if adopting.SolveAdopted(adopted, value) {
			t.Error("solved with factors of no matrix")
		}
		var c mat.Cholesky
		if ok := m.Factor(); !ok || !c.Factorize(dense) {
			t.Fatalf("not positive: %v", ok)
		}
		m.Solve(x)
		var want, by, moved mat.VecDense
		_ = c.SolveVecTo(&want, b)
		by.MulVec(slope, &want)
		_ = c.SolveVecTo(&moved, &by)
		plain.Factor()
		plain.Solve(value)
		adopting.Adopt(&plain)
		if !adopting.Factor() || !adopting.SolveAdopted(adopted, value) {
			t.Fatal("not solved with the factors of the plain matrix")
		}
		for i := range x {
			if off := adopted[i] - x[i]; real(off) != 0 || math.Abs(imag(off)) > 1e-11*step {
				t.Fatalf("%v, with the factors of the plain matrix %v", x[i], adopted[i])
			}
			if math.Abs(real(x[i])-want.AtVec(i)) > 1e-12 || math.Abs(imag(x[i])/step+moved.AtVec(i)) > 1e-11 {
				t.Fatalf("%v, dense %g and %g", x[i], want.AtVec(i), -moved.AtVec(i))
			}
		}
	}
	var p Pattern
	p.Reset(2)
	p.Couple(0, 1)
	p.Close()
	var m Matrix[float64]
	m.Reset(&p)
	m.Entry[p.At(0, 0)], m.Entry[p.At(0, 1)], m.Entry[p.At(1, 1)] = 1, 2, 1
	if m.Factor() {
		t.Error("a matrix that is not positive definite was factored")
	}
}
