package testbed

import (
	"math"
)

// ZDT3 has a front in five pieces; its volume comes from the dense curve, since domination
// cuts the pieces out by itself.
func ZDT3() *Problem {
	wave := func(x, g float64) float64 {
		return g * (1 - math.Sqrt(x/g) - x/g*math.Sin(10*math.Pi*x))
	}
	const last, least = 0.8518328654, -0.7733690035 // end of the front, recalled
	p := &Problem{
		Name: "ZDT3", Vars: box(30, 0, 1), M: 2, Ideal: []float64{0, least}, Nadir: []float64{last, 1},
		Eval: func(f, _, x []float64) { f[0], f[1] = x[0], wave(x[0], tail(x)) },
		Derivative: func(df, _ [][]float64, x []float64) {
			g, n := tail(x), float64(len(x)-1)
			clear(df[0])
			df[0][0] = 1
			root := math.Sqrt(max(x[0], 1e-300) / g)
			sin, cos := math.Sincos(10 * math.Pi * x[0])
			df[1][0] = -0.5/root - sin - 10*math.Pi*x[0]*cos
			for i := 1; i < len(x); i++ {
				df[1][i] = 9 / n * (1 - 0.5*root)
			}
		},
	}
	p.Volume = curve(p.Ideal, p.Nadir, 200000, func(t float64) (float64, float64) { return t, wave(t, 1) })
	return p
}

// SRN's set follows the line x2 = (x1 + 10)/3 from its point nearest to (2, 1), which is
// (1.1, 3.7), to x1 = −2.5, goes straight up to the circle of radius 15, and along it to
// the least second objective, where x1 = −4.5/(1 − 1/x2). Derived by hand.
func SRN() *Problem {
	eval := func(f, g, x []float64) {
		f[0] = 2 + (x[0]-2)*(x[0]-2) + (x[1]-1)*(x[1]-1)
		f[1] = 9*x[0] - (x[1]-1)*(x[1]-1)
		g[0] = (x[0]*x[0] + x[1]*x[1] - 225) / 225
		g[1] = (x[0] - 3*x[1] + 10) / 10
	}
	circle := func(x float64) float64 { return math.Sqrt(225 - x*x) }
	end := -4.5
	for range 50 {
		end = -4.5 / (1 - 1/circle(end))
	}
	at := func(t float64) (float64, float64) {
		x := []float64{-2.5, 2.5 + (3*t-1)*(circle(2.5)-2.5)}
		if t < 1.0/3 {
			x[0] = 1.1 - 3*t*3.6
			x[1] = (x[0] + 10) / 3
		} else if t > 2.0/3 {
			x[0] = -2.5 + (3*t-2)*(end+2.5)
			x[1] = circle(x[0])
		}
		f, g := make([]float64, 2), make([]float64, 2)
		eval(f, g, x)
		return f[0], f[1]
	}
	p := &Problem{Name: "SRN", Vars: box(2, -20, 20), M: 2, C: 2, Eval: eval}
	f1, f2 := at(0)
	g1, g2 := at(1)
	p.Ideal, p.Nadir = []float64{f1, g2}, []float64{g1, f2}
	p.Volume = curve(p.Ideal, p.Nadir, 99999, at)
	return p
}

// DTLZ1 has a plane front, Σf = 1/2, behind 11^5 − 1 local ones.
func DTLZ1(m int) *Problem {
	corner := 1.0
	for i := 2; i <= m; i++ {
		corner /= float64(i)
	}
	return &Problem{
		Name: "DTLZ1", Vars: box(m+4, 0, 1), M: m, Ideal: fill(m, 0), Nadir: fill(m, 0.5),
		Volume: math.Pow(1.1, float64(m)) - corner,
		Eval: func(f, _, x []float64) {
			r := 0.5 * (1 + rugged(x[m-1:]))
			for i := range f {
				f[i] = r
				for _, v := range x[:m-1-i] {
					f[i] *= v
				}
				if i > 0 {
					f[i] *= 1 - x[m-1-i]
				}
			}
		},
	}
}

// DTLZ3 is DTLZ2's front behind 3^10 − 1 local ones.
func DTLZ3(m int) *Problem {
	p := DTLZ2(m)
	p.Name = "DTLZ3"
	p.Eval = func(f, _, x []float64) { sphere(f, x, 1+rugged(x[m-1:])) }
	return p
}

func rugged(x []float64) float64 {
	sum := float64(len(x))
	for _, v := range x {
		sum += (v-0.5)*(v-0.5) - math.Cos(20*math.Pi*(v-0.5))
	}
	return 100 * sum
}
