package testbed

import (
	"fmt"
	"math"
	"math/rand/v2"
)

// TurnSeed is the seed of the orthogonal matrix of DTLZ2Turned.
const TurnSeed = 20

// DTLZ2Turned is DTLZ2 with its distance variables, measured from 1/2, turned by an
// orthogonal matrix: z = Q (x − 1/2), g = Σ w z². The weights w go geometrically from 1 to
// stretch. With stretch 1 the turn changes nothing, since a sphere stays a sphere; with a
// larger one the variables interact. The front is that of DTLZ2.
func DTLZ2Turned(m int, stretch float64) *Problem {
	p := DTLZ2(m)
	p.Name = fmt.Sprintf("DTLZ2 turned, stretch %g", stretch)
	k := len(p.Vars) - (m - 1)
	q := orthogonal(k, TurnSeed)
	weight := make([]float64, k)
	for i := range weight {
		weight[i] = math.Pow(stretch, float64(i)/float64(k-1))
	}
	turn := func(x []float64, i int) float64 {
		z := 0.0
		for j, c := range q[i] {
			z += c * (x[m-1+j] - 0.5)
		}
		return z
	}
	distance := func(x []float64) float64 {
		g := 0.0
		for i, w := range weight {
			z := turn(x, i)
			g += w * z * z
		}
		return g
	}
	p.Eval = func(f, _, x []float64) { sphere(f, x, 1+distance(x)) }
	p.Derivative = func(df, _ [][]float64, x []float64) {
		sphereSlope(df, x, 1+distance(x), func(k int) float64 {
			d := 0.0
			for i, w := range weight {
				d += 2 * w * turn(x, i) * q[i][k-(m-1)]
			}
			return d
		})
	}
	return p
}

// orthogonal returns a random orthogonal matrix: normal entries, made orthonormal row by
// row (Gram–Schmidt), which is uniform over all rotations and reflections.
func orthogonal(n int, seed uint64) [][]float64 {
	rng := rand.New(rand.NewPCG(seed, 0))
	q := make([][]float64, n)
	for i := range q {
		q[i] = make([]float64, n)
		for j := range q[i] {
			q[i][j] = rng.NormFloat64()
		}
		for pass := 0; pass < 2; pass++ { // once more for what rounding left
			for _, other := range q[:i] {
				dot := 0.0
				for j, v := range other {
					dot += v * q[i][j]
				}
				for j, v := range other {
					q[i][j] -= dot * v
				}
			}
		}
		norm := 0.0
		for _, v := range q[i] {
			norm += v * v
		}
		for j := range q[i] {
			q[i][j] /= math.Sqrt(norm)
		}
	}
	return q
}
