package testbed

import (
	"math"
	"math/rand/v2"
	"strings"
	"sync"
)

// known is what is known of a problem's front apart from its code.
type known struct {
	*Problem
	// set draws a point of the Pareto set, or of a set a little larger, the rest dominated.
	set func(rng *rand.Rand) []float64
	// above is 0 on the front, and negative for what dominates a point of it; nil where there
	// is no closed form.
	above func(f []float64) float64
}

// touches reports whether above is 0 at some points of the front and positive between them.
func (k known) touches() bool { return strings.HasPrefix(k.Name, "CTP") }

// knowns has an entry for each problem of Further. The sets are those of the papers or, where
// these state none, what the formulas of the distances give by hand; all recalled.
var knowns = sync.OnceValue(func() []known {
	all := append(knownTwo(), knownMW()...)
	all = append(all, knownUF()...)
	all = append(all, knownTurned()...)
	all = append(all, knownCTP()...)
	all = append(all, knownWFG()...)
	return append(all, knownDTLZ()...)
})

func knownTwo() []known {
	return []known{
		{ZDT6(), headAnd(10, func(int) float64 { return 0 }), func(f []float64) float64 { return f[1] - 1 + f[0]*f[0] }},
		{FON(), func(rng *rand.Rand) []float64 { return fill(3, (2*rng.Float64()-1)/math.Sqrt(3)) }, func(f []float64) float64 {
			return math.Sqrt(-math.Log1p(-f[0])) + math.Sqrt(-math.Log1p(-f[1])) - 2 // two points 2 apart
		}},
		{CONSTR(), func(rng *rand.Rand) []float64 {
			x := 7.0/18 + rng.Float64()*11/18
			return []float64{x, max(0, 6-9*x)}
		}, func(f []float64) float64 { return f[1] - max(7/f[0]-9, 1/f[0]) }},
		{OSY(), osyPublished, nil},
	}
}

// knownTurned are the sets of the problems before their turn, turned back: Qᵀ is the inverse of Q.
func knownTurned() []known {
	turn, vars := orthogonal(6, TurnSeed), OSY().Vars
	return []known{
		{ZDT1Turned(), headAnd(30, func(int) float64 { return 0.5 }), func(f []float64) float64 {
			return f[1] - 1 + math.Sqrt(f[0])
		}},
		{OSYTurned(), func(rng *rand.Rand) []float64 {
			y, x := osyPublished(rng), fill(6, 0.5)
			for i, row := range turn {
				v := vars[i]
				for j, q := range row {
					x[j] += q * ((y[i]-v.Low)/(v.High-v.Low) - 0.5)
				}
			}
			return x
		}, nil},
	}
}

// osyPublished draws from the five parts of OSY's set as Deb (2001) lists them.
func osyPublished(rng *rand.Rand) []float64 {
	s := rng.Float64()
	between := func(low, high float64) float64 { return low + s*(high-low) }
	switch rng.IntN(5) {
	case 0:
		return []float64{5, 1, between(1, 5), 0, 5, 0}
	case 1:
		return []float64{5, 1, between(1, 5), 0, 1, 0}
	case 2:
		x := between(4.056, 5)
		return []float64{x, (x - 2) / 3, 1, 0, 1, 0}
	case 3:
		return []float64{0, 2, between(1, 3.732), 0, 1, 0}
	}
	return []float64{s, 2 - s, 1, 0, 1, 0}
}

// headAnd is any x1 in 0..1 and rest(i) for i = 1…n−1.
func headAnd(n int, rest func(i int) float64) func(rng *rand.Rand) []float64 {
	return func(rng *rand.Rand) []float64 {
		x := []float64{rng.Float64()}
		for i := 1; i < n; i++ {
			x = append(x, rest(i))
		}
		return x
	}
}

// allowed draws until a problem allows what is drawn.
func allowed(p *Problem, draw func(rng *rand.Rand) []float64) func(rng *rand.Rand) []float64 {
	return func(rng *rand.Rand) []float64 {
		for {
			x := draw(rng)
			if out := evaluated(p, x); out.Feasible() {
				return x
			}
		}
	}
}

func knownMW() []known {
	const n = 15
	mw1 := MW1()
	line := func(f []float64) float64 { return f[0] + f[1] - 1 }
	return []known{
		{mw1, allowed(mw1, headAnd(n, func(i int) float64 {
			return math.Pow(0.5+float64(i)/(2*n), 1.0/(n-2))
		})), func(f []float64) float64 { return f[1] - 1 + 0.85*f[0] }},
		{MW2(), headAnd(n, func(i int) float64 { return float64(i) / n }), line},
		{MW3(), func(rng *rand.Rand) []float64 {
			difference := 2*rng.Float64() - 1
			g := mw3Sum(difference)
			return linkedSet((g-difference)/2, g)
		}, func(f []float64) float64 { return f[0] + f[1] - mw3Sum(f[1]-f[0]) }},
		{MW7(), func(rng *rand.Rand) []float64 {
			angle := rng.Float64() * math.Pi / 2
			return linkedSet(math.Cos(angle), mw7Radius(angle))
		}, func(f []float64) float64 { return math.Hypot(f[0], f[1]) - mw7Radius(math.Atan2(f[1], f[0])) }},
	}
}

func mw3Sum(difference float64) float64 {
	return max(1, 0.85+0.3*math.Pow(math.Sin(0.75*math.Pi*math.Sqrt2*difference), 2))
}

func mw7Radius(angle float64) float64 {
	return max(1, 1.15-0.2*math.Pow(math.Sin(4*angle), 8))
}

// linkedSet has the distance g of MW3 and MW7: all of g − 1 comes from the last variable.
func linkedSet(first, g float64) []float64 {
	x := []float64{first}
	for i := 1; i < 15; i++ {
		x = append(x, 1-(x[i-1]-0.5)*(x[i-1]-0.5))
	}
	x[14] -= math.Sqrt((g - 1) / 2)
	return x
}

// sineSet winds with x1 = rng^power; r is what the sine is multiplied by.
func sineSet(power float64, of func(x1, phase float64, j int) float64) func(rng *rand.Rand) []float64 {
	return func(rng *rand.Rand) []float64 {
		x := []float64{math.Pow(rng.Float64(), power)}
		for j := 2; j <= 30; j++ {
			x = append(x, of(x[0], float64(j)*math.Pi/30, j))
		}
		return x
	}
}

func knownUF() []known {
	sine := func(x, phase float64, _ int) float64 { return math.Sin(6*math.Pi*x + phase) }
	uf2 := func(x, phase float64, j int) float64 {
		turn := math.Sin
		if j%2 == 1 {
			turn = math.Cos
		}
		return (0.3*x*x*math.Cos(24*math.Pi*x+4*phase) + 0.6*x) * turn(6*math.Pi*x+phase)
	}
	root := func(f []float64) float64 { return f[1] - 1 + math.Sqrt(f[0]) }
	return []known{
		{UF1(), sineSet(1, sine), root},
		{UF2(), sineSet(1, uf2), root},
		{UF4(), sineSet(1, sine), func(f []float64) float64 { return f[1] - 1 + f[0]*f[0] }},
		{UF7(), sineSet(5, sine), func(f []float64) float64 { return f[0] + f[1] - 1 }},
	}
}

// knownCTP goes through what the constraint's edge is over f1; CTP2 to 5 touch the line
// through (0, 1) turned by −0.2 π from above.
func knownCTP() []known {
	var all []known
	sin, cos := math.Sincos(-0.2 * math.Pi)
	for number := 2; number <= 6; number++ {
		p := CTP(number)
		k := known{p, lowestAt(p), func(f []float64) float64 { return cos*(f[1]-1) - sin*f[0] }}
		if number == 6 {
			k.above = nil
		}
		all = append(all, k)
	}
	return all
}

// lowestAt draws f1 and looks for the least f2 ≥ 1 − f1 that CTP allows there, in steps of
// 0.004 and then by bisection.
func lowestAt(p *Problem) func(rng *rand.Rand) []float64 {
	return func(rng *rand.Rand) []float64 {
		f1 := rng.Float64()
		at := func(g float64) []float64 { return append([]float64{f1}, fill(9, (g-1)/9)...) }
		fits := func(g float64) bool {
			out := evaluated(p, at(g))
			return out.Feasible()
		}
		high := 1.0
		for !fits(high) {
			high += 0.004
		}
		low := max(1, high-0.004)
		for range 40 {
			if mid := (low + high) / 2; fits(mid) {
				high = mid
			} else {
				low = mid
			}
		}
		return at(high)
	}
}
