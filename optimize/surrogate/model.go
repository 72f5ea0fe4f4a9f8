// Package surrogate predicts numbers that take long to work out from numbers that do not, learnt from examples of both.
package surrogate

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// Model is a Gaussian process with a Matérn kernel of order 5/2 on hints that are scaled by their standard deviations, one
// kernel for all values (Rasmussen and Williams, Gaussian Processes for Machine Learning, MIT Press 2006, eqs. 2.25 and 4.17;
// recalled). Length and noise are those of a few with the least error when each example is predicted from all others (ibid.
// eq. 5.12), so a fit depends on nothing but the examples and their order.
type Model struct {
	examples     [][]float64 // hints of those with values
	void         [][]float64 // hints of those without
	perScale     []float64   // of each hint: 1/standard deviation, 0 where all examples agree
	perLength    float64
	weights      [][]float64 // by value, then by example
	mean, spread []float64   // by value
}

// What length and noise are chosen from: the length in √hints, and the part of the variance that is noise.
var (
	lengths = [...]float64{1, 2, 4, 8}
	noises  = [...]float64{1e-4, 1e-2}
)

// Fit learns from examples, one row each; the row of values is nil where an example has none. It keeps the rows of hints.
func Fit(hints, values [][]float64) *Model {
	m := &Model{}
	var known [][]float64
	for i, v := range values {
		if v == nil {
			m.void = append(m.void, hints[i])
		} else {
			m.examples, known = append(m.examples, hints[i]), append(known, v)
		}
	}
	m.scale(hints)
	if len(known) > 0 {
		m.learn(known)
	}
	return m
}

// scale finds the scales of the hints.
func (m *Model) scale(hints [][]float64) {
	if len(hints) == 0 {
		return
	}
	n := float64(len(hints))
	m.perScale = make([]float64, len(hints[0]))
	for k := range m.perScale {
		mean, square := 0.0, 0.0
		for _, h := range hints {
			mean += h[k] / n
		}
		for _, h := range hints {
			off := h[k] - mean
			square += float64(off*off) / n
		}
		const least = 1e-12 // of the mean: below, all that differs is rounding
		if deviation := math.Sqrt(square); deviation > least*math.Abs(mean) {
			m.perScale[k] = 1 / deviation
		}
	}
}

// learn finds length, noise and weights.
func (m *Model) learn(known [][]float64) {
	n, count := len(known), len(known[0])
	m.mean, m.spread, m.weights = make([]float64, count), make([]float64, count), make([][]float64, count)
	scaled := mat.NewDense(n, count, nil)
	for j := range count {
		square := 0.0
		for _, v := range known {
			m.mean[j] += v[j] / float64(n)
		}
		for _, v := range known {
			off := v[j] - m.mean[j]
			square += float64(off*off) / float64(n)
		}
		if m.spread[j] = math.Sqrt(square); m.spread[j] == 0 {
			m.spread[j] = 1
		}
		for i, v := range known {
			scaled.Set(i, j, (v[j]-m.mean[j])/m.spread[j])
		}
		m.weights[j] = make([]float64, n)
	}
	moving := 0
	for _, s := range m.perScale {
		if s > 0 {
			moving++
		}
	}
	least := math.Inf(1)
	for _, length := range lengths {
		per := 1 / (length * math.Sqrt(float64(max(moving, 1))))
		kernel := m.kernels(per)
		for _, noise := range noises {
			weights, err := solve(kernel, noise, scaled)
			if !(err < least) {
				continue
			}
			least, m.perLength = err, per
			for j := range count {
				mat.Col(m.weights[j], j, weights)
			}
		}
	}
}

// kernels are those between all examples.
func (m *Model) kernels(perLength float64) *mat.SymDense {
	n := len(m.examples)
	k := mat.NewSymDense(n, nil)
	for i := range n {
		for j := range i + 1 {
			k.SetSym(i, j, kernel(perLength*math.Sqrt(m.distance2(m.examples[i], m.examples[j]))))
		}
	}
	return k
}

// solve returns the weights of the examples for each value, and the mean squared error of predicting each from all others.
func solve(kernel *mat.SymDense, noise float64, values *mat.Dense) (weights *mat.Dense, err float64) {
	n, count := values.Dims()
	noisy := mat.NewSymDense(n, nil)
	noisy.CopySym(kernel)
	for i := range n {
		noisy.SetSym(i, i, 1+noise)
	}
	var c mat.Cholesky
	var inverse mat.SymDense
	weights = &mat.Dense{}
	if !c.Factorize(noisy) || c.InverseTo(&inverse) != nil || c.SolveTo(weights, values) != nil {
		return nil, math.Inf(1)
	}
	for i := range n {
		for j := range count {
			off := weights.At(i, j) / inverse.At(i, i)
			err += float64(off*off) / float64(n*count)
		}
	}
	return weights, err
}

// kernel is the correlation at a distance, in lengths.
func kernel(distance float64) float64 {
	r := math.Sqrt(5) * distance
	return (1 + r + float64(r*r)/3) * math.Exp(-r)
}

// distance2 is the squared distance of two rows of hints, in scales.
func (m *Model) distance2(a, b []float64) float64 {
	sum := 0.0
	for k, s := range m.perScale {
		d := (a[k] - b[k]) * s
		sum += float64(d * d)
	}
	return sum
}

// Predict writes the values to be expected; it allocates nothing. It is false where the nearest example has none. Without
// examples with values it predicts 0.
func (m *Model) Predict(dst, hints []float64) bool {
	clear(dst)
	if len(m.examples) == 0 {
		return true
	}
	nearest := math.Inf(1)
	for i, e := range m.examples {
		d2 := m.distance2(e, hints)
		nearest = min(nearest, d2)
		k := kernel(m.perLength * math.Sqrt(d2))
		for j := range dst {
			dst[j] += float64(m.weights[j][i] * k)
		}
	}
	for _, v := range m.void {
		if m.distance2(v, hints) < nearest {
			return false
		}
	}
	for j := range dst {
		dst[j] = m.mean[j] + float64(m.spread[j]*dst[j])
	}
	return true
}
