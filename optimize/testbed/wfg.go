package testbed

import (
	"fmt"
	"math"

	"forkfront/optimize/problem"
)

// wfgRule is what tells WFG4 to WFG9 apart: how the parameters y, of which k are of position,
// are transformed and in which way they are then put together.
type wfgRule struct {
	transform func(y []float64, k int)
	join      func(y []float64) float64
}

var wfgRules = [...]wfgRule{
	4: {func(y []float64, _ int) { each(y, func(v float64) float64 { return shiftMulti(v, 30, 10, 0.35) }) }, mean},
	5: {func(y []float64, _ int) { each(y, deceive) }, mean},
	6: {func(y []float64, k int) { each(y[k:], shift) }, entangled},
	7: {biasPosition, mean},
	8: {biasDistance, mean},
	9: {biasAll, entangled},
}

// WFG is problem 4 to 9 in m objectives: the front is an ellipsoid with half axes 2, 4, …, 2m
// whose volume, normalised, is DTLZ2's. There are 20 variables of distance and 2(m−1) of
// position, 4 with two objectives; variable i, counted from 1, goes from 0 to 2i.
func WFG(number, m int) *Problem {
	if number < 4 || number >= len(wfgRules) {
		panic(fmt.Sprintf("testbed: WFG%d; there are 4 to %d of this kind", number, len(wfgRules)-1))
	}
	rule, k := wfgRules[number], max(4, 2*(m-1))
	p := &Problem{
		Name: fmt.Sprintf("WFG%d", number), Vars: wfgVariables(k + 20), M: m,
		Ideal: fill(m, 0), Nadir: make([]float64, m), Volume: math.Pow(1.1, float64(m)) - orthant(m),
	}
	for i := range p.Nadir {
		p.Nadir[i] = 2 * float64(i+1)
	}
	p.Eval = func(f, _, x []float64) {
		y := wfgParameters(x)
		rule.transform(y, k)
		angle := make([]float64, m-1) // sphere's first objective has only cosines, WFG's sines
		for i := range angle {
			angle[i] = 1 - rule.join(y[i*k/(m-1):(i+1)*k/(m-1)])
		}
		sphere(f, angle, 1)
		distance := rule.join(y[k:])
		for i := range f {
			f[i] = distance + p.Nadir[i]*f[i]
		}
	}
	return p
}

func wfgVariables(n int) []problem.Variable {
	vars := make([]problem.Variable, n)
	for i := range vars {
		vars[i].High = 2 * float64(i+1)
	}
	return vars
}

// wfgParameters takes the variables to 0..1.
func wfgParameters(x []float64) []float64 {
	y := make([]float64, len(x))
	for i, v := range x {
		y[i] = clip(v / (2 * float64(i+1)))
	}
	return y
}

func each(y []float64, f func(float64) float64) {
	for i, v := range y {
		y[i] = f(v)
	}
}

func shift(y float64) float64 { return shiftLinear(y, 0.35) }

func deceive(y float64) float64 { return shiftDecept(y, 0.35, 0.001, 0.05) }

// biasPosition is WFG7's: each parameter of position is biased by all that come after it.
func biasPosition(y []float64, k int) {
	for i := range k {
		y[i] = biasBy(y[i], mean(y[i+1:]))
	}
	each(y[k:], shift)
}

// biasDistance is WFG8's: each parameter of distance is biased by all that come before it, as
// they were.
func biasDistance(y []float64, k int) {
	for i := len(y) - 1; i >= k; i-- {
		y[i] = biasBy(y[i], mean(y[:i]))
	}
	each(y[k:], shift)
}

// biasAll is WFG9's: each parameter but the last is biased by all that come after it.
func biasAll(y []float64, k int) {
	for i := range len(y) - 1 {
		y[i] = biasBy(y[i], mean(y[i+1:]))
	}
	each(y[:k], deceive)
	each(y[k:], func(v float64) float64 { return shiftMulti(v, 30, 95, 0.35) })
}
