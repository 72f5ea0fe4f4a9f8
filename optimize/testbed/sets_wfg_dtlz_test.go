package testbed

import (
	"math"
	"math/rand/v2"
)

func knownWFG() []known {
	wfg1 := func(f []float64) float64 {
		x := 2 / math.Pi * math.Acos(max(1-f[0]/2, 0))
		return f[1] - 4*(1-x-math.Cos(10*math.Pi*x+math.Pi/2)/(10*math.Pi))
	}
	one, two := WFG1(), WFG2()
	all := []known{
		{one, wfgSet(one, 4, func(rng *rand.Rand, y []float64) {
			each(y[1:4], func(float64) float64 { return y[0] })
			each(y[:4], func(v float64) float64 { return math.Pow(v, 50) })
		}), wfg1},
		{two, wfgSet(two, 4, evenly), nil},
	}
	for _, m := range []int{2, 3, 5} {
		for number := 4; number <= 9; number++ {
			p := WFG(number, m)
			k := len(p.Vars) - 20
			all = append(all, known{p, wfgSet(p, k, wfgSettle(number, k, m)), func(f []float64) float64 {
				return ellipsoid(f, p.Nadir)
			}})
		}
	}
	return all
}

// wfgSet draws positions and sets each parameter of distance to 0.35; settle may change both.
func wfgSet(p *Problem, k int, settle func(rng *rand.Rand, y []float64)) func(rng *rand.Rand) []float64 {
	return func(rng *rand.Rand) []float64 {
		y := fill(len(p.Vars), 0.35)
		for i := range k {
			y[i] = rng.Float64()
		}
		settle(rng, y)
		for i := range y {
			y[i] *= 2 * float64(i+1)
		}
		return y
	}
}

// evenly gives the four positions of WFG2 one value, so that their mean reaches 0 and 1.
func evenly(_ *rand.Rand, y []float64) {
	for i := range y[:4] {
		y[i] = y[0]
	}
}

// wfgSettle sets the positions so that each of their m−1 groups comes to any value in 0..1.
func wfgSettle(number, k, m int) func(rng *rand.Rand, y []float64) {
	return func(rng *rand.Rand, y []float64) { wfgPlace(number, k, m, y, rng.Float64) }
}

// wfgPlace sets the positions so that each group comes to a value of its own and undoes the
// bias where the paper's solution does: WFG8's of the distance by all before it, upwards;
// WFG7's and WFG9's by all after it, downwards.
func wfgPlace(number, k, m int, y []float64, value func() float64) {
	var v float64
	group := k / (m - 1)
	for i := range k {
		if i%group == 0 {
			v = value()
		}
		y[i] = wfgPosition(number, v, i%group)
	}
	if number == 8 {
		for i := k; i < len(y); i++ {
			y[i] = unbiased(0.35, mean(y[:i]))
		}
	}
	for i := len(y) - 2; i >= 0; i-- {
		if number == 7 && i < k || number == 9 {
			y[i] = unbiased(y[i], mean(y[i+1:]))
		}
	}
}

// wfgPosition is parameter i of a group that is to come to v, before any bias.
func wfgPosition(number int, v float64, i int) float64 {
	if i%2 == 1 && (number == 6 || number == 9) {
		v = 0 // v, 0, v, 0 entangled are v
	}
	switch number {
	case 4:
		return 0.35 + 0.65*v // comes to 0 and 1, not evenly between
	case 5, 9:
		return 0.35 + 0.001*v // the gap of the deceptive shift
	}
	return v
}

// unbiased is y to the power 1/(0.02 + 49.98 v(u)), as the paper gives it for 0.35.
func unbiased(y, u float64) float64 {
	a := 0.98 / 49.98
	v := 2 * u * a
	if u > 0.5 {
		v = a + (2*u-1)*(1-a)
	}
	return math.Pow(y, 1/(0.02+49.98*v))
}

// ellipsoid is Σ (f/half axis)² − 1.
func ellipsoid(f, axes []float64) float64 {
	sum := -1.0
	for i, v := range f {
		sum += v / axes[i] * v / axes[i]
	}
	return sum
}

// positionsAnd draws m−1 positions, raised to a power, and gives the rest one value.
func positionsAnd(p *Problem, power, rest float64) func(rng *rand.Rand) []float64 {
	return func(rng *rand.Rand) []float64 {
		x := fill(len(p.Vars), rest)
		for i := range p.M - 1 {
			x[i] = math.Pow(rng.Float64(), power)
		}
		return x
	}
}

func knownDTLZ() []known {
	var all []known
	add := func(p *Problem, power, rest float64, above func(f []float64) float64) {
		all = append(all, known{p, allowed(p, positionsAnd(p, power, rest)), above})
	}
	sum := func(f []float64) float64 {
		total := 0.0
		for _, v := range f {
			total += v
		}
		return total
	}
	sphere := func(f []float64) float64 { return ellipsoid(f, fill(len(f), 1)) }
	scaled := func(f []float64) float64 { return ellipsoid(f, []float64{1, 10, 100}) }
	arc := func(f []float64) float64 { return 2*math.Pow(min(f[0], f[1]), 2) + f[2]*f[2] - 1 }
	plane := func(f []float64) float64 { return 2*sum(f) - 1 }
	inverted := func(f []float64) float64 { return 2*sum(f)/float64(len(f)-1) - 1 }
	for _, m := range []int{3, 5} {
		add(DTLZ4(m), 0.01, 0.5, sphere)
		add(DTLZ1Inverted(m), 1, 0.5, inverted)
	}
	add(DTLZ5(), 1, 0.5, arc)
	add(DTLZ6(), 1, 0, arc)
	add(DTLZ7(), 1, 0, func(f []float64) float64 {
		return f[2] - 6 + f[0]*(1+math.Sin(3*math.Pi*f[0])) + f[1]*(1+math.Sin(3*math.Pi*f[1]))
	})
	add(DTLZ2Scaled(3, 10), 1, 0.5, scaled)
	add(C1DTLZ1(3), 1, 0.5, plane)
	add(C2DTLZ2(), 1, 0.5, sphere)
	for _, m := range []int{4, 5, 8} {
		add(DTLZ2(m), 1, 0.5, sphere)
	}
	add(DTLZ1(5), 1, 0.5, plane)
	add(DTLZ3(5), 1, 0.5, sphere)
	return all
}
