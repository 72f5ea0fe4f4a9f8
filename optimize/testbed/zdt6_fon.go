package testbed

import "math"

// ZDT6 has a concave front, f2 = 1 − f1², that begins at the least f1, 0.28078. Few of the
// evenly spread x1 come near its beginning, and few points near the front at all.
func ZDT6() *Problem {
	first := func(x float64) float64 { return 1 - math.Exp(-4*x)*math.Pow(math.Sin(6*math.Pi*x), 6) }
	p := &Problem{
		Name: "ZDT6", Vars: box(10, 0, 1), M: 2,
		Eval: func(f, _, x []float64) {
			g := 1 + 9*math.Pow((tail(x)-1)/9, 0.25)
			f[0] = first(x[0])
			f[1] = g * (1 - f[0]/g*f[0]/g)
		},
	}
	return p.along(200000, func(t float64) (float64, float64) {
		f := first(t / 12) // from 1 to the least and a little further; the other waves are higher
		return f, 1 - f*f
	})
}

// FON measures the distances from two points, ±(1, 1, 1)/√3, each as 1 − exp(−distance²).
// They are 2 apart, so the set is the line between them and the front, concave, is
// √−ln(1−f1) + √−ln(1−f2) = 2.
func FON() *Problem {
	end := 1 / math.Sqrt(3)
	far := func(x []float64, from float64) float64 {
		sum := 0.0
		for _, v := range x {
			sum += (v - from) * (v - from)
		}
		return 1 - math.Exp(-sum)
	}
	p := &Problem{
		Name: "FON", Vars: box(3, -4, 4), M: 2,
		Eval: func(f, _, x []float64) { f[0], f[1] = far(x, end), far(x, -end) },
	}
	return p.along(100000, func(t float64) (float64, float64) {
		x := fill(3, (1-2*t)*end)
		return far(x, end), far(x, -end)
	})
}
