package testbed

import "math"

// DTLZ4 has DTLZ2's front, most of which comes from positions close below 1.
func DTLZ4(m int) *Problem {
	p := DTLZ2(m)
	p.Name, p.Derivative = "DTLZ4", nil
	p.Eval = func(f, _, x []float64) { crowdedSphere(f, x, 1+bowl(x[m-1:])) }
	return p
}

// crowdedSphere is sphere with the hundredth power of its positions.
func crowdedSphere(f, x []float64, r float64) {
	positions := make([]float64, len(f)-1)
	for i := range positions {
		positions[i] = math.Pow(x[i], 100)
	}
	sphere(f, positions, r)
}

// DTLZ5 in three objectives has an arc for a front: f1 = f2, f1² + f2² + f3² = 1.
func DTLZ5() *Problem { return arc("DTLZ5", bowl) }

// DTLZ6 is DTLZ5 with a distance that is steep near its least and flat elsewhere.
func DTLZ6() *Problem {
	return arc("DTLZ6", func(x []float64) float64 {
		g := 0.0
		for _, v := range x {
			g += math.Pow(v, 0.1)
		}
		return g
	})
}

// arc turns the second position of the sphere to the middle, the more the less the distance.
// Normalised, the front is (√(1−f3²), √(1−f3²), f3), and dominates, at each height f3 up to
// 1, a square of side 1.1 − √(1−f3²).
func arc(name string, distance func(x []float64) float64) *Problem {
	const m, n = 3, 12
	half := math.Sqrt(0.5)
	return &Problem{
		Name: name, Vars: box(n, 0, 1), M: m, Ideal: fill(m, 0), Nadir: []float64{half, half, 1},
		Volume: 1.1*1.1*1.1 + 2.0/3 - 2.2*math.Pi/4,
		Eval: func(f, _, x []float64) {
			g := distance(x[m-1:])
			sphere(f, []float64{x[0], (1 + 2*g*x[1]) / (2 * (1 + g))}, 1+g)
		},
	}
}

// DTLZ7 in three objectives has a front in four pieces: f3 = 6 − 2 t(f1) − 2 t(f2) with
// t(f) = f (1 + sin 3πf)/2, as far as t is higher there than anywhere before.
//
// Normalised, f3 is 1 − (t(f1) + t(f2))/2top, and the volume, since the two terms stand
// apart, 0.1 · 1.1² + 1.1 ∫ highest/top, where highest is that of t up to f, and f goes from
// 0 to 1.1 times the end of the front, where t is at its top.
func DTLZ7() *Problem {
	const m, n, steps = 3, 22, 200000
	p := &Problem{Name: "DTLZ7", Vars: box(n, 0, 1), M: m, Eval: func(f, _, x []float64) {
		g := tail(x[m-2:])
		f[0], f[1] = x[0], x[1]
		f[2] = (1+g)*m - 2*(waved(x[0])+waved(x[1]))
	}}
	end := 0.0
	for i := range steps + 1 {
		if f := float64(i) / steps; waved(f) > waved(end) {
			end = f
		}
	}
	top, highest, sum := waved(end), 0.0, 0.0
	for i := range steps {
		highest = max(highest, waved(min(1.1*end*(float64(i)+0.5)/steps, end)))
		sum += highest
	}
	p.Ideal, p.Nadir = []float64{0, 0, 6 - 4*top}, []float64{end, end, 6}
	p.Volume = 0.121 + 1.1*1.1*sum/top/steps
	return p
}

// waved is half of f (1 + sin 3πf), as DTLZ7 takes it off where g = 1.
func waved(f float64) float64 { return f / 2 * (1 + math.Sin(3*math.Pi*f)) }
