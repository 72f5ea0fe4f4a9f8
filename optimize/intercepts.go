package optimize

import (
	"math"
	"slices"
)

// intercepts scale a front for reference directions: the best value ever seen of each
// objective is 0, and where the plane through the extreme points meets its axis is 1 (Deb
// and Jain 2014). The extreme points are remembered, or the scale would jump about with
// every generation and each jump would prefer points that lie better over better points.
type intercepts struct {
	ideal   []float64
	extreme [][]float64 // one per objective
}

// see takes in a front.
func (t *intercepts) see(points [][]float64) {
	low, _ := bounds(points)
	if t.ideal == nil {
		t.ideal, t.extreme = low, make([][]float64, len(low))
	}
	for i, v := range low {
		t.ideal[i] = min(t.ideal[i], v)
	}
	for axis := range t.extreme {
		best, least := t.extreme[axis], math.Inf(1)
		if best != nil {
			least = t.achievement(best, axis)
		}
		for _, p := range points {
			if v := t.achievement(p, axis); v < least {
				best, least = p, v
			}
		}
		t.extreme[axis] = slices.Clone(best)
	}
}

// achievement is small for a point near an axis.
func (t *intercepts) achievement(p []float64, axis int) float64 {
	worst := 0.0
	for j, v := range p {
		d := v - t.ideal[j]
		if j != axis {
			d *= 1e6
		}
		worst = max(worst, d)
	}
	return worst
}

// scaled returns the points scaled. Where there is no plane, or it meets an axis beyond the
// front, the front's own largest value is 1.
func (t *intercepts) scaled(points, front [][]float64) [][]float64 {
	_, high := bounds(front)
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
func (t *intercepts) spans(reach []float64) []float64 {
	m := len(t.ideal)
	rows := grid(m, m+1)
	for axis, p := range t.extreme {
		for j, v := range p {
			rows[axis][j] = (v - t.ideal[j]) / reach[j]
		}
		rows[axis][m] = 1
	}
	span := make([]float64, m)
	if eliminate(rows) {
		for i := range span {
			if rows[i][m] > 0 {
				span[i] = 1 / rows[i][m]
			}
		}
	}
	return span
}

// eliminate solves the augmented rows in place, the solution in the last column.
func eliminate(rows [][]float64) bool {
	n := len(rows)
	for c := range n {
		p := c
		for r := c; r < n; r++ {
			if math.Abs(rows[r][c]) > math.Abs(rows[p][c]) {
				p = r
			}
		}
		rows[c], rows[p] = rows[p], rows[c]
		if math.Abs(rows[c][c]) < 1e-12 {
			return false
		}
		for r := range n {
			if r == c {
				continue
			}
			k := rows[r][c] / rows[c][c]
			for j := c; j <= n; j++ {
				rows[r][j] -= k * rows[c][j]
			}
		}
	}
	for i := range rows {
		rows[i][n] /= rows[i][i]
	}
	return true
}

func (t *intercepts) pack(w *packer) {
	w.bool(t.ideal != nil)
	w.floats(t.ideal)
	for _, p := range t.extreme {
		w.floats(p)
	}
}

func (t *intercepts) unpack(u *unpacker, objectives int) {
	if !u.bool() {
		return
	}
	t.ideal, t.extreme = make([]float64, objectives), grid(objectives, objectives)
	u.floats(t.ideal, false)
	for _, p := range t.extreme {
		u.floats(p, false)
	}
}
