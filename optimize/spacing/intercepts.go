package spacing

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"

	"forkfront/optimize/wire"
)

// Intercepts scale a front for reference directions: the best value ever seen of each
// objective is 0, and where the plane through the extreme points meets its axis is 1 (Deb
// and Jain 2014). The extreme points are remembered, or the scale would jump about with
// every generation and each jump would prefer points that lie better over better points.
type Intercepts struct {
	ideal   []float64
	extreme [][]float64 // one per objective
}

// Update takes in a front.
func (t *Intercepts) Update(points [][]float64) {
	low, _ := Bounds(points)
	if t.ideal == nil {
		t.ideal, t.extreme = low, make([][]float64, len(low))
	}
	for i, v := range low {
		t.ideal[i] = min(t.ideal[i], v)
	}
	for axis := range t.extreme {
		best, least := t.extreme[axis], math.Inf(1)
		if best != nil {
			least = t.achievement(best, axis, math.Inf(1))
		}
		for _, p := range points {
			if v := t.achievement(p, axis, least); v < least {
				best, least = p, v
			}
		}
		t.extreme[axis] = slices.Clone(best)
	}
}

// achievement is small for a point near an axis; what is not below a bound is not worked out to the end.
func (t *Intercepts) achievement(p []float64, axis int, bound float64) float64 {
	worst := 0.0
	for j, v := range p {
		d := v - t.ideal[j]
		if j != axis {
			d *= 1e6
		}
		if d > worst {
			if worst = d; worst >= bound {
				break
			}
		}
	}
	return worst
}

// Normalise returns the points scaled. Where there is no plane, or it meets an axis beyond the
// front, the front's own largest value is 1.
func (t *Intercepts) Normalise(points, front [][]float64) [][]float64 {
	_, high := Bounds(front)
	reach := make([]float64, len(high))
	for i, v := range high {
		if reach[i] = v - t.ideal[i]; !(reach[i] > 0) {
			reach[i] = 1
		}
	}
	span := t.spans(reach)
	for i, r := range reach {
		if !(span[i] > 1e-9) || span[i] > 1 {
			span[i] = 1
		}
		span[i] *= r
	}
	m := len(span)
	slab, out := make([]float64, len(points)*m), make([][]float64, len(points))
	for i, p := range points {
		out[i] = slab[i*m : (i+1)*m : (i+1)*m]
		for j, v := range p {
			out[i][j] = (v - t.ideal[j]) / span[j]
		}
	}
	return out
}

// spans returns where the plane meets each axis, from the ideal and in units of reach; zeros
// when there is none.
func (t *Intercepts) spans(reach []float64) []float64 {
	m := len(t.ideal)
	a, ones := mat.NewDense(m, m, nil), mat.NewVecDense(m, nil)
	for axis, p := range t.extreme {
		for j, v := range p {
			a.Set(axis, j, (v-t.ideal[j])/reach[j])
		}
		ones.SetVec(axis, 1)
	}
	span, inverse := make([]float64, m), mat.NewVecDense(m, nil)
	if inverse.SolveVec(a, ones) != nil {
		return span
	}
	for i := range span {
		if v := inverse.AtVec(i); v > 0 {
			span[i] = 1 / v
		}
	}
	return span
}

func (t *Intercepts) Pack(w *wire.Writer) {
	w.Bool(t.ideal != nil)
	w.Floats(t.ideal)
	for _, p := range t.extreme {
		w.Floats(p)
	}
}

func (t *Intercepts) Unpack(u *wire.Reader, objectives int) {
	if !u.Bool() {
		return
	}
	t.ideal, t.extreme = make([]float64, objectives), make([][]float64, objectives)
	u.Floats(t.ideal, false)
	for i := range t.extreme {
		t.extreme[i] = make([]float64, objectives)
		u.Floats(t.extreme[i], false)
	}
}
