// Package arithmetic tells builds apart whose floating-point results differ, so that parts computed by
// different ones are not mixed.
//
// Go allows the compiler to fuse a multiplication and an addition, which rounds once instead of twice; it does
// so on arm64 and, with GOAMD64=v3, on amd64. The standard library's math package is compiled in the same way,
// and math.Exp chooses by processor at run time. A search that continues with other last digits finds another
// front.
package arithmetic

import (
	"crypto/sha256"
	"encoding/binary"
	"fmt"
	"math"
	"math/cmplx"
	"runtime"
	"sync"

	"gonum.org/v1/gonum/mat"
)

// Kind names the arithmetic of this program on this machine: the architecture, whether multiplications and
// additions are fused, and a digest of computed results. Where they are fused, which ones is up to the
// compiler, so its version belongs to the name too.
var Kind = sync.OnceValue(func() string {
	fused := "unfused"
	if fuses(inputs[0], inputs[1], inputs[2]) {
		fused = "fused by " + runtime.Version()
	}
	sum := sha256.New()
	for _, v := range results() {
		sum.Write(binary.LittleEndian.AppendUint64(nil, math.Float64bits(v)))
	}
	return fmt.Sprintf("%s %s %.8x", runtime.GOARCH, fused, sum.Sum(nil))
})

// Mismatch says that something was computed with other arithmetic than this program's.
type Mismatch struct {
	What string // the file or state, for people
	Kind string // what it was computed with
}

func (m *Mismatch) Error() string {
	return fmt.Sprintf("%s was computed with other arithmetic (%s) than that of this program (%s), and the two give different fronts; "+
		"use a build for the same GOARCH and GOAMD64 on a processor with the same instructions", m.What, m.Kind, Kind())
}

// Check returns a *Mismatch unless kind is that of this program.
func Check(what, kind string) error {
	if kind == Kind() {
		return nil
	}
	return &Mismatch{what, kind}
}

// inputs are variables, or the compiler would compute the results itself. With the first three a fused x·y + z
// is 2⁻⁵⁴ and one that is rounded twice is 0.
var inputs = []float64{1 + 1.0/(1<<27), 1 + 1.0/(1<<27), -(1 + 1.0/(1<<26)), 0.1, 0.7, 1.3, 2.9, 11.7, 123.456, -0.37}

//go:noinline
func fuses(x, y, z float64) bool { return x*y+z != 0 }

// results are what a search and the models that it evaluates are computed with: sums of products in every
// form, complex numbers, elementary functions, and a linear system by gonum.
func results() []float64 {
	var all []float64
	for i, x := range inputs {
		for k, y := range inputs {
			z := inputs[(i+k)%len(inputs)]
			all = append(all, products(x, y, z)...)
			all = append(all, elementary(x, y)...)
		}
	}
	return append(all, solution()...)
}

//go:noinline
func products(x, y, z float64) []float64 {
	c := complex(x, y) * complex(z, x)
	d := complex(x, y) / complex(z, 1)
	return []float64{x*y + z, x*y - z, z - x*y, -x*y - z, x*x + y*y, x*x - y*y, real(c), imag(c), real(d), imag(d)}
}

//go:noinline
func elementary(x, y float64) []float64 {
	sin, cos := math.Sincos(3 * x)
	size := math.Abs(x)
	root := cmplx.Sqrt(complex(x, y))
	power := cmplx.Pow(complex(size, 0.1), complex(0.3, 0))
	return []float64{
		sin, cos, math.Sin(x), math.Cos(x), math.Tan(x / 100), math.Asin(math.Mod(x, 1)), math.Acos(math.Mod(x, 1)), math.Atan(x),
		math.Atan2(x, y), math.Hypot(x, y), math.Sqrt(size), math.Cbrt(x), math.Exp(-size), math.Log(size), math.Log10(size), math.Log1p(size),
		math.Pow(size, 0.37), math.Pow(1+size, y/100), math.Sinh(x / 100), math.Tanh(x), math.Gamma(size/10 + 0.5), math.Mod(x, y),
		real(root), imag(root), real(power), imag(power),
	}
}

func solution() []float64 {
	n := len(inputs)
	a, b := mat.NewDense(n, n, nil), mat.NewVecDense(n, inputs)
	for i := range n {
		for k := range n {
			a.Set(i, k, inputs[(i*i+k)%n]/float64(1+i+k))
		}
		a.Set(i, i, 20+a.At(i, i))
	}
	x := mat.NewVecDense(n, nil)
	if err := x.SolveVec(a, b); err != nil {
		panic("arithmetic: the probe's linear system: " + err.Error())
	}
	return append(x.RawVector().Data, mat.Dot(x, b), mat.Norm(x, 2))
}
