package clearance

import "math"

// findZero calls slope at points that converge to its zero between a and b, where its values fa and fb differ in
// sign, by the Illinois variant of the regula falsi.
func findZero(a, b, fa, fb float64, slope func(float64) float64) {
	for range 20 {
		at := b - fb*(b-a)/(fb-fa)
		f := slope(at)
		if f*fb < 0 {
			a, fa = b, fb
		} else {
			fa /= 2
		}
		b, fb = at, f
		if math.Abs(f) < 1e-9 || fa == fb {
			return
		}
	}
}
