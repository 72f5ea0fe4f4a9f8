package testbed

import (
	"fmt"
	"math"
)

// ctpEdge is the edge of what CTP allows. Along a line through (0, e), turned by theta, and
// across it, upwards, allowed is across ≥ a |sin(b π along^c)|^d. The front is within the
// first halfWaves of it.
type ctpEdge struct{ theta, a, b, c, d, e, halfWaves float64 }

var ctpEdges = [...]ctpEdge{
	2: {-0.2 * math.Pi, 0.2, 10, 1, 6, 1, 13},
	3: {-0.2 * math.Pi, 0.1, 10, 1, 0.5, 1, 13},
	4: {-0.2 * math.Pi, 0.75, 10, 1, 0.5, 1, 13},
	5: {-0.2 * math.Pi, 0.1, 10, 2, 0.5, 1, 16},
	6: {0.1 * math.Pi, 40, 0.5, 1, 2, -2, 1},
}

// CTP is problem 2 to 6, whose fronts lie on the constraint, above f1 + f2 = 1, where they
// would lie without: for 2 in pieces round the tips of waves; for 3 and 4 only at the tips,
// the deeper the wave the harder to reach; for 5 in pieces where the waves are long and at the
// tips where they are short; for 6 above a band that is not allowed.
//
// The distance is the plain sum, g = 1 + Σ x, which does not change the front. Nor does it
// matter for it that f2 = g − √(f1 g) is found as well as f2 = g − f1, which is used here.
// CTP7, for which it does, is left out.
func CTP(number int) *Problem {
	if number < 2 || number >= len(ctpEdges) {
		panic(fmt.Sprintf("testbed: CTP%d; there are 2 to %d", number, len(ctpEdges)-1))
	}
	edge := ctpEdges[number]
	p := &Problem{
		Name: fmt.Sprintf("CTP%d", number), Vars: box(10, 0, 1), M: 2, C: 1,
		Eval: func(f, g, x []float64) {
			f[0], f[1] = x[0], 1-x[0]
			for _, v := range x[1:] {
				f[1] += v
			}
			g[0] = edge.beyond(f[0], f[1])
		},
	}
	return p.along(208000, edge.at)
}

// beyond is how far a point is on the wrong side, across the line.
func (e ctpEdge) beyond(f1, f2 float64) float64 {
	sin, cos := math.Sincos(e.theta)
	along, across := sin*(f2-e.e)+cos*f1, cos*(f2-e.e)-sin*f1
	return e.height(along) - across
}

func (e ctpEdge) height(along float64) float64 {
	return e.a * math.Pow(math.Abs(math.Sin(e.b*math.Pi*math.Pow(math.Abs(along), e.c))), e.d)
}

// at is the edge as a curve, in even steps of the wave's phase, so that the tips, where it is
// a whole number of half waves, are among 208,000 steps; NaN where no x leads.
func (e ctpEdge) at(t float64) (f1, f2 float64) {
	along := math.Pow(e.halfWaves*t/e.b, 1/e.c)
	across := e.height(along)
	sin, cos := math.Sincos(e.theta)
	f1, f2 = cos*along-sin*across, e.e+sin*along+cos*across
	if f1 < 0 || f1 > 1 || f2 < 1-f1 {
		return math.NaN(), math.NaN()
	}
	return f1, f2
}
