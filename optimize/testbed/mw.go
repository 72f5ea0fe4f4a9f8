package testbed

import "math"

// MW1 has the front f2 = 1 − 0.85 f1 in the pieces that the constraint leaves of it.
func MW1() *Problem {
	limit := func(f1, f2 float64) float64 {
		return f1 + f2 - 1 - 0.5*math.Pow(math.Sin(2*math.Pi*math.Sqrt2*(f2-f1)), 8)
	}
	p := &Problem{
		Name: "MW1", Vars: box(15, 0, 1), M: 2, C: 1,
		Eval: func(f, g, x []float64) {
			f[0], f[1] = x[0], crammed(x)-0.85*x[0]
			g[0] = limit(f[0], f[1])
		},
	}
	return p.along(200000, func(t float64) (float64, float64) {
		if limit(t, 1-0.85*t) > 0 {
			return math.NaN(), math.NaN()
		}
		return t, 1 - 0.85*t
	})
}

// crammed is MW1's distance, 1 where x[i]^(n−2) = 1/2 + i/2n, i from 1: powers so high that
// the best values crowd just below 1.
func crammed(x []float64) float64 {
	g, n := 1.0, float64(len(x))
	for i := 1; i < len(x); i++ {
		d := math.Pow(x[i], n-2) - 0.5 - float64(i)/(2*n)
		g += 1 - math.Exp(-10*d*d)
	}
	return g
}

// MW2 has the whole line f1 + f2 = 1 as its front, which all that is allowed hangs from; its
// volume is 0.1 + 1/2 + 0.11. The distance has local optima.
func MW2() *Problem {
	return &Problem{
		Name: "MW2", Vars: box(15, 0, 1), M: 2, C: 1, Ideal: fill(2, 0), Nadir: fill(2, 1), Volume: 0.71,
		Eval: func(f, g, x []float64) {
			f[0], f[1] = x[0], pitted(x)-x[0]
			g[0] = f[0] + f[1] - 1 - 0.5*math.Pow(math.Sin(3*math.Pi*math.Sqrt2*(f[1]-f[0])), 8)
		},
	}
}

// pitted is MW2's distance, 1 where x[i] = i/n, i from 1.
func pitted(x []float64) float64 {
	g, n := 1.0, float64(len(x))
	for i := 1; i < len(x); i++ {
		d := x[i] - float64(i)/n
		z := 1 - math.Exp(-10*d*d)
		g += 1.5 + 0.1/n*z*z - 1.5*math.Cos(2*math.Pi*z)
	}
	return g
}

// MW3 is f1 + f2 = 1 where allowed, else on the second constraint, which juts out beyond it
// in three places. With l = √2 (f2 − f1), f1 + f2 is then 0.85 + 0.3 sin²(0.75 π l).
func MW3() *Problem {
	wave := func(difference float64) float64 { return math.Sin(0.75 * math.Pi * math.Sqrt2 * difference) }
	p := &Problem{
		Name: "MW3", Vars: box(15, 0, 1), M: 2, C: 2,
		Eval: func(f, g, x []float64) {
			f[0], f[1] = x[0], linked(x)-x[0]
			sum, sin := f[0]+f[1], wave(f[1]-f[0])
			g[0] = sum - 1.05 - 0.45*math.Pow(sin, 6)
			g[1] = 0.85 + 0.3*sin*sin - sum
		},
	}
	return p.along(200000, func(t float64) (float64, float64) {
		difference := 2*t - 1
		sin := wave(difference)
		sum := max(1, 0.85+0.3*sin*sin)
		return (sum - difference) / 2, (sum + difference) / 2
	})
}

// linked is the distance of MW3 and MW7, 1 where x[i] = 1 − (x[i−1] − 1/2)².
func linked(x []float64) float64 {
	g := 1.0
	for i := 1; i < len(x); i++ {
		d := x[i] + (x[i-1]-0.5)*(x[i-1]-0.5) - 1
		g += 2 * d * d
	}
	return g
}

// MW7 is a quarter of the unit circle where allowed, else on the second constraint, whose
// radius at angle l is 1.15 − 0.2 sin⁸ 4l.
func MW7() *Problem {
	inner := func(angle float64) float64 { return 1.15 - 0.2*math.Pow(math.Sin(4*angle), 8) }
	p := &Problem{
		Name: "MW7", Vars: box(15, 0, 1), M: 2, C: 2,
		Eval: func(f, g, x []float64) {
			r := linked(x)
			f[0], f[1] = r*x[0], r*math.Sqrt(1-x[0]*x[0])
			angle := math.Atan2(f[1], f[0])
			outer, inner := 1.2+0.4*math.Pow(math.Sin(4*angle), 16), inner(angle)
			g[0], g[1] = r*r-outer*outer, inner*inner-r*r
		},
	}
	return p.along(200000, func(t float64) (float64, float64) {
		sin, cos := math.Sincos(t * math.Pi / 2)
		r := max(1, inner(t*math.Pi/2))
		return r * sin, r * cos
	})
}
