package simulation

import "math"

// weighting filters an acceleration by W_h of ISO 5349-1, with the parameters of ISO 8041: a band of Butterworth filters of
// the second order from 10^0.8 to 10^3.1 Hz, times
//
//	ω₃ (s + ω₃) / (s² + ω₃ s / 0.64 + ω₃²), ω₃ = 100 rad/s
//
// in discrete steps by the bilinear transform, each part exact at its own frequency.
type weighting [3]section

var (
	weightedFrom = 2 * math.Pi * math.Pow(10, 0.8)
	weightedTo   = 2 * math.Pi * math.Pow(10, 3.1)
)

const (
	weightedFall  = 100.0
	weightedSharp = 0.64
)

// analogue has the coefficients of a part of the filter, of s⁰ to s², and its frequency in rad/s.
type analogue struct {
	over, under [3]float64
	omega       float64
}

func weightingParts() [3]analogue {
	a, b, c := weightedFrom, weightedTo, weightedFall
	return [3]analogue{
		{[3]float64{0, 0, 1}, [3]float64{a * a, a * math.Sqrt2, 1}, a},
		{[3]float64{b * b}, [3]float64{b * b, b * math.Sqrt2, 1}, b},
		{[3]float64{c * c, c}, [3]float64{c * c, c / weightedSharp, 1}, c},
	}
}

// section is one part in discrete steps, its memory in the direct form II transposed.
type section struct{ b0, b1, b2, a1, a2, z1, z2 float64 }

func newWeighting(stepS float64) (w weighting) {
	for i, p := range weightingParts() {
		w[i] = p.discrete(stepS)
	}
	return w
}

// discrete replaces s by k (z − 1) / (z + 1).
func (p *analogue) discrete(stepS float64) section {
	k := p.omega / math.Tan(p.omega*stepS/2)
	expand := func(c [3]float64) (z0, z1, z2 float64) { // of z², z and 1
		return c[0] + c[1]*k + c[2]*k*k, 2 * (c[0] - c[2]*k*k), c[0] - c[1]*k + c[2]*k*k
	}
	b0, b1, b2 := expand(p.over)
	a0, a1, a2 := expand(p.under)
	return section{b0: b0 / a0, b1: b1 / a0, b2: b2 / a0, a1: a1 / a0, a2: a2 / a0}
}

// next is the filter's output for the next input.
func (w *weighting) next(x float64) float64 {
	for i := range w {
		s := &w[i]
		y := s.b0*x + s.z1
		s.z1 = s.b1*x - s.a1*y + s.z2
		s.z2 = s.b2*x - s.a2*y
		x = y
	}
	return x
}
