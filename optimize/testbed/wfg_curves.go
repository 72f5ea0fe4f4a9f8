package testbed

import "math"

// WFG1 in two objectives has a convex front with five waves. The distance has a plateau, and
// every parameter is raised to the power 0.02, which leaves little between 0 and near 1: with
// each parameter of distance 1e-14 from its optimum, both objectives are 0.53 above the front.
func WFG1() *Problem {
	return wfgCurve("WFG1", func(y []float64, k int) (position, distance float64) {
		each(y[k:], func(v float64) float64 { return biasFlat(shift(v), 0.8, 0.75, 0.85) })
		each(y, func(v float64) float64 { return math.Pow(v, 0.02) })
		return weighted(y, 0, k), weighted(y, k, len(y))
	}, func(x float64) float64 { return 1 - x - math.Cos(10*math.Pi*x+math.Pi/2)/(10*math.Pi) })
}

// weighted is the mean of y from..to−1 with weights 2, 4, … from the start of y.
func weighted(y []float64, from, to int) float64 {
	sum, weights := 0.0, 0.0
	for i := from; i < to; i++ {
		sum += 2 * float64(i+1) * y[i]
		weights += 2 * float64(i+1)
	}
	return sum / weights
}

// WFG2 in two objectives has a convex front in five pieces; the parameters of distance are
// entangled two by two.
func WFG2() *Problem {
	return wfgCurve("WFG2", func(y []float64, k int) (position, distance float64) {
		each(y[k:], shift)
		pairs := (len(y) - k) / 2
		for i := k; i < len(y); i += 2 {
			distance += entangled(y[i:i+2]) / float64(pairs)
		}
		return mean(y[:k]), distance
	}, func(x float64) float64 {
		cos := math.Cos(5 * math.Pi * x)
		return 1 - x*cos*cos
	})
}

// wfgCurve is a WFG problem in two objectives: 4 parameters of position make one number x, 20
// of distance another, which is added to 2 (1 − cos(π x/2)) and to 4 second(x).
func wfgCurve(name string, join func(y []float64, k int) (position, distance float64), second func(x float64) float64) *Problem {
	front := func(x float64) (float64, float64) { return 2 * (1 - math.Cos(x*math.Pi/2)), 4 * second(x) }
	const k, l = 4, 20
	p := &Problem{Name: name, Vars: wfgVariables(k + l), M: 2, Eval: func(f, _, x []float64) {
		position, distance := join(wfgParameters(x), k)
		f[0], f[1] = front(position)
		f[0] += distance
		f[1] += distance
	}}
	return p.along(100000, front)
}
