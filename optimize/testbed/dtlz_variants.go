package testbed

import "math"

// DTLZ1Inverted takes DTLZ1's objectives from their sum, 1/2 on the front: it stands on its
// head, with corners where one objective is 0 and the others are 1/2. Below p, normalised, it
// dominates where Σ max(0, 1−p) ≤ 1: with k of the 1−p positive, a corner 1/k! of a cube,
// with the others in −0.1..0.
func DTLZ1Inverted(m int) *Problem {
	p := DTLZ1(m)
	p.Name, p.Volume = "DTLZ1 inverted", 0
	upright := p.Eval
	p.Eval = func(f, g, x []float64) {
		upright(f, g, x)
		sum := 0.5 * (1 + rugged(x[m-1:]))
		for i := range f {
			f[i] = sum - f[i]
		}
	}
	part := 1.0 // (m over k) / k!
	for k := 0; k <= m; k++ {
		p.Volume += part * math.Pow(0.1, float64(m-k))
		part *= float64(m-k) / float64((k+1)*(k+1))
	}
	return p
}

// DTLZ2Scaled is DTLZ2 with the objectives in units that differ: by, by², … times as large.
func DTLZ2Scaled(m int, by float64) *Problem {
	p := DTLZ2(m)
	p.Name, p.Derivative = "DTLZ2 scaled", nil
	for i := range p.Nadir {
		p.Nadir[i] = math.Pow(by, float64(i))
	}
	even := p.Eval
	p.Eval = func(f, g, x []float64) {
		even(f, g, x)
		for i := range f {
			f[i] *= p.Nadir[i]
		}
	}
	return p
}

// C1DTLZ1 has DTLZ1's front, and little above it that is allowed: Σ f/0.5 ≤ 1 with 0.6 in
// place of 0.5 in the last objective.
func C1DTLZ1(m int) *Problem {
	p := DTLZ1(m)
	p.Name, p.C = "C1-DTLZ1", 1
	free := p.Eval
	p.Eval = func(f, g, x []float64) {
		free(f, g, x)
		g[0] = f[m-1]/0.6 - 1
		for _, v := range f[:m-1] {
			g[0] += v / 0.5
		}
	}
	return p
}

// C2DTLZ2 in three objectives has four patches of DTLZ2's sphere as its front, those within
// 0.4 of the ends of the axes and of the middle. Nothing further out in these four balls is
// on it: any such point has a lower one in its ball.
func C2DTLZ2() *Problem {
	p := DTLZ2(3)
	p.Name, p.C, p.Derivative = "C2-DTLZ2", 1, nil
	free := p.Eval
	p.Eval = func(f, g, x []float64) {
		free(f, g, x)
		g[0] = offPatches(f)
	}
	p.Volume = patchVolume(2000)
	return p
}

// offPatches is the squared distance from the nearest of the four centres, less 0.4².
func offPatches(f []float64) float64 {
	const radius = 0.4
	square, middle, most := 0.0, 0.0, f[0]
	for _, v := range f {
		square += v * v
		middle += (v - 1/math.Sqrt(3)) * (v - 1/math.Sqrt(3))
		most = max(most, v)
	}
	return min(middle, square+1-2*most) - radius*radius
}

// patchVolume goes over the cells of an even grid on f1 and f2. Over each is dominated what
// is above the lowest point of the patches at no higher f1 and f2.
func patchVolume(cells int) float64 {
	lowest := fill(cells, math.Inf(1)) // by f2, over the rows of f1 so far
	side, sum := 1.1/float64(cells), 0.0
	for i := range cells {
		f1, before := (float64(i)+0.5)*side, math.Inf(1)
		for k := range lowest {
			before = min(before, lowest[k], patchHeight(f1, (float64(k)+0.5)*side))
			lowest[k] = before
			sum += max(0, 1.1-before) * side * side
		}
	}
	return sum
}

// patchHeight is f3 of the patches at f1, f2: 0 beyond their lower rim, the quarter of a
// circle between f1 and f2, and +Inf where there is none.
func patchHeight(f1, f2 float64) float64 {
	rest := 1 - f1*f1 - f2*f2
	if rest < 0 {
		if f1 > 1 {
			return math.Inf(1) // the rim ends; lower rows have it
		}
		f2, rest = math.Sqrt(1-f1*f1), 0
	}
	height := math.Sqrt(rest)
	if offPatches([]float64{f1, f2, height}) > 0 {
		return math.Inf(1)
	}
	return height
}
