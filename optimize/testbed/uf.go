package testbed

import (
	"math"

	"forkfront/optimize/problem"
)

// UF1 has ZDT1's front; its set winds through all the variables as a sine.
func UF1() *Problem { return unconstrained("UF1", 1, 0.21+2.0/3, fromSine, square, rootFront) }

// UF2 has ZDT1's front; the sines of its set widen with x1 and carry finer ones.
func UF2() *Problem {
	return unconstrained("UF2", 1, 0.21+2.0/3, func(x []float64, j int) float64 {
		phase := float64(j) * math.Pi / float64(len(x))
		r := 0.3*x[0]*x[0]*math.Cos(24*math.Pi*x[0]+4*phase) + 0.6*x[0]
		if j%2 == 1 {
			return x[j-1] - r*math.Cos(6*math.Pi*x[0]+phase)
		}
		return x[j-1] - r*math.Sin(6*math.Pi*x[0]+phase)
	}, square, rootFront)
}

// UF4 has ZDT2's front; far from its set the distance falls again, down to nothing.
func UF4() *Problem {
	vanishing := func(y float64) float64 { return math.Abs(y) / (1 + math.Exp(2*math.Abs(y))) }
	return unconstrained("UF4", 2, 0.21+1.0/3, fromSine, vanishing, func(x float64) (float64, float64) { return x, 1 - x*x })
}

// UF7 has f1 + f2 = 1 as its front, of which an even x1 leaves the lower end bare.
func UF7() *Problem {
	return unconstrained("UF7", 1, 0.71, fromSine, square, func(x float64) (float64, float64) {
		r := math.Pow(x, 0.2)
		return r, 1 - r
	})
}

// unconstrained is what UF1 to UF7 share: 30 variables, the first in 0..1, the others in
// ±bound; front gives the objectives by x1, volume is below it. To the first one is added twice the mean of
// distance over from(x, j), j = 3, 5, …, 29, to the second that over j = 2, 4, …, 30, where
// from is how far variable j, counted from 1, is from the set.
func unconstrained(name string, bound, volume float64, from func(x []float64, j int) float64,
	distance func(float64) float64, front func(x float64) (f1, f2 float64),
) *Problem {
	vars := box(30, -bound, bound)
	vars[0] = problem.Variable{Low: 0, High: 1}
	p := &Problem{Name: name, Vars: vars, M: 2, Ideal: fill(2, 0), Nadir: fill(2, 1), Volume: volume}
	p.Eval = func(f, _, x []float64) {
		f[0], f[1] = front(x[0])
		odd, even := (len(x)-1)/2, len(x)/2
		for j := 2; j <= len(x); j++ {
			if d := distance(from(x, j)); j%2 == 1 {
				f[0] += 2 * d / float64(odd)
			} else {
				f[1] += 2 * d / float64(even)
			}
		}
	}
	return p
}

// fromSine is how far variable j, counted from 1, is from sin(6π x1 + jπ/n).
func fromSine(x []float64, j int) float64 {
	return x[j-1] - math.Sin(6*math.Pi*x[0]+float64(j)*math.Pi/float64(len(x)))
}

func square(y float64) float64 { return y * y }

func rootFront(x float64) (f1, f2 float64) { return x, 1 - math.Sqrt(x) }
