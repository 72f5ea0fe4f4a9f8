package simulation

import (
	"math"
	"math/cmplx"
	"testing"
)

// gainOf is the filter's gain at a frequency, from its formula.
func gainOf(hz float64) float64 {
	s, h := complex(0, 2*math.Pi*hz), complex(1, 0)
	for _, p := range weightingParts() {
		poly := func(c [3]float64) complex128 { return complex(c[0], 0) + s*complex(c[1], 0) + s*s*complex(c[2], 0) }
		h *= poly(p.over) / poly(p.under)
	}
	return cmplx.Abs(h)
}

// W_h at the true middles of third-octave bands, 10^(k/10) Hz, as ISO 5349-1 tabulates it (in the extract JIS B 7761-3).
func TestWeightingAgainstTheStandardsTable(t *testing.T) {
	for i, want := range []float64{.727, .873, .951, .958, .896, .782, .647, .519, .411, .324, .256, .202, .160, .127, .101, .0799} {
		hz := math.Pow(10, float64(8+i)/10)
		if got := gainOf(hz); math.Abs(got-want) > 0.00051+0.0005*want {
			t.Errorf("%.4g Hz: %.5f, want %g", hz, got, want)
		}
	}
}

// In discrete steps a sine comes out as the formula says: within 0.5 % up to 100 Hz at the step of simulations, which holds
// nearly all that the weighting lets through.
func TestWeightingInSteps(t *testing.T) {
	for _, hz := range []float64{4, 8, 12.5, 25, 50, 100} {
		w := newWeighting(usualStepS)
		steps := int(math.Round(40 / hz / usualStepS))
		first := int(math.Round(20 / hz / usualStepS))
		square := 0.0
		for i := range steps {
			y := w.next(math.Sin(2 * math.Pi * hz * float64(i) * usualStepS))
			if i >= first {
				square += y * y
			}
		}
		if got, want := math.Sqrt(2*square/float64(steps-first)), gainOf(hz); math.Abs(got/want-1) > 0.005 {
			t.Errorf("%g Hz: %.5f, want %.5f", hz, got, want)
		}
	}
}

// W_h by the parameters of ISO 8041, in its own form of the transfer function: band limits of the second order at 10^0.8 and
// 10^3.1 Hz with a quality of 1/√2, then a transition with f3 = f4 = 100/(2π) Hz and a quality of 0.64, gain 1
// (manualshive.com, 3698114, page 33). The program has the product of these factors in another form.
func TestWeightingByItsParameters(t *testing.T) {
	band := func(hz float64) float64 {
		low, high := math.Pow(10, 0.8), math.Pow(10, 3.1)
		return 1 / math.Sqrt((1+math.Pow(low/hz, 4))*(1+math.Pow(hz/high, 4))) // Butterworth: a quality of 1/√2
	}
	transition := func(hz float64) float64 {
		const corner, quality = 100 / (2 * math.Pi), 0.64
		r := hz / corner
		return math.Sqrt((1 + r*r) / ((1-r*r)*(1-r*r) + r*r/(quality*quality)))
	}
	for hz := 1.0; hz < 3000; hz *= 1.1 {
		if got, want := gainOf(hz), band(hz)*transition(hz); math.Abs(got/want-1) > 1e-9 {
			t.Errorf("%.4g Hz: %.10g, want %.10g", hz, got, want)
		}
	}
}
