package testbed

import "math"

// TNK has the wavy edge x1² + x2² = 1 + 0.1 cos(16 atan(x1/x2)) as its front, cut where the
// circle of the second constraint meets it.
func TNK() *Problem {
	eval := func(f, g, x []float64) {
		f[0], f[1] = x[0], x[1]
		g[0] = 1 + 0.1*math.Cos(16*math.Atan2(x[0], x[1])) - x[0]*x[0] - x[1]*x[1]
		g[1] = 2 * ((x[0]-0.5)*(x[0]-0.5) + (x[1]-0.5)*(x[1]-0.5) - 0.5)
	}
	edge := func(angle float64) (float64, float64) {
		sin, cos := math.Sincos(angle)
		r := math.Sqrt(1 + 0.1*math.Cos(16*angle))
		return r * sin, r * cos
	}
	within := func(angle float64) bool {
		x, y := edge(angle)
		return (x-0.5)*(x-0.5)+(y-0.5)*(y-0.5) <= 0.5
	}
	outside, inside := 0.0, 0.1 // angles between which the edge enters the circle
	for range 60 {
		if mid := (outside + inside) / 2; within(mid) {
			inside = mid
		} else {
			outside = mid
		}
	}
	low, high := edge(inside)
	p := &Problem{
		Name: "TNK", Vars: box(2, 0, math.Pi), M: 2, C: 2, Eval: eval,
		Ideal: fill(2, low), Nadir: fill(2, high),
	}
	p.Volume = curve(p.Ideal, p.Nadir, 400000, func(t float64) (float64, float64) {
		return edge(inside + t*(math.Pi/2-2*inside))
	})
	return p
}

// C3DTLZ4 is DTLZ4 in three objectives, its sphere cut off by three ellipsoids that become
// the front (Jain and Deb, IEEE Trans. Evol. Comput. 18, 2014, 602; recalled). What the
// ellipsoids take of the normalised box is ∫∫ (1+4a²+4b²)^(−3/2) da db over the unit square,
// which is atan(4/3)/4.
func C3DTLZ4() *Problem {
	const m, n = 3, 12
	return &Problem{
		Name: "C3-DTLZ4", Vars: box(n, 0, 1), M: m, C: m, Ideal: fill(m, 0), Nadir: fill(m, 2),
		Volume: 1.331 - math.Atan(4.0/3)/4,
		Eval: func(f, g, x []float64) {
			r := 1.0
			for _, v := range x[m-1:] {
				r += (v - 0.5) * (v - 0.5)
			}
			crowdedSphere(f, x, r)
			sum := 0.0
			for _, v := range f {
				sum += v * v
			}
			for i, v := range f {
				g[i] = 1 - sum + 0.75*v*v
			}
		},
	}
}
