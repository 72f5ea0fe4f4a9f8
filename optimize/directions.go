package optimize

import (
	"math"
	"slices"
)

// directions are unit vectors spread over the positive orthant.
type directions [][]float64

// newDirections returns at least n directions: the points of a simplex lattice (Das and
// Dennis 1998), two lattices one inside the other where a single one with inner points
// would be far too many.
func newDirections(objectives, n int) directions {
	if objectives == 1 {
		return directions{{1}} // the lattice has one point, however fine it is
	}
	outer, inner := 1, 0
	for lattice(objectives, outer)+lattice(objectives, inner) < n {
		if outer >= objectives || inner == outer-1 {
			outer++
		} else {
			inner++
		}
		if outer >= objectives {
			inner = 0
		}
	}
	var all directions
	simplex(objectives, outer, func(w []float64) { all = append(all, unit(w)) })
	if inner > 0 {
		simplex(objectives, inner, func(w []float64) {
			for i := range w {
				w[i] = w[i]/2 + 0.5/float64(objectives)
			}
			all = append(all, unit(w))
		})
	}
	return all
}

// lattice is the number of ways to share p parts among m: C(m+p−1, p); 0 for p = 0.
func lattice(m, p int) int {
	if p == 0 {
		return 0
	}
	n := 1
	for i := 1; i <= p; i++ {
		n = n * (m - 1 + i) / i
	}
	return n
}

func simplex(m, p int, yield func([]float64)) {
	w := make([]float64, m)
	var share func(i, left int)
	share = func(i, left int) {
		if i == m-1 {
			w[i] = float64(left) / float64(p)
			yield(slices.Clone(w))
			return
		}
		for k := left; k >= 0; k-- {
			w[i] = float64(k) / float64(p)
			share(i+1, left-k)
		}
	}
	share(0, p)
}

func unit(w []float64) []float64 {
	norm := 0.0
	for _, v := range w {
		norm += v * v
	}
	for i := range w {
		w[i] /= math.Sqrt(norm)
	}
	return w
}

// cut keeps n of a layer, by the niche count of reference-direction survival (Deb and Jain,
// IEEE Trans. Evol. Comput. 18, 2014): the direction with the fewest survivors takes its
// nearest candidate next. Ties go to the earlier direction, so nothing is drawn.
func (d directions) cut(layer, kept []*member, n int) []*member {
	all := append(slices.Clone(kept), layer...)
	scaled := intercepted(points(all))
	at, off := make([]int, len(all)), make([]float64, len(all))
	for i, p := range scaled {
		at[i], off[i] = d.nearest(p)
	}
	count := make([]int, len(d))
	for i := range kept {
		count[at[i]]++
	}
	waiting := make([][]int, len(d)) // candidates of each direction, nearest first
	for i := len(kept); i < len(all); i++ {
		waiting[at[i]] = append(waiting[at[i]], i)
	}
	for _, w := range waiting {
		slices.SortStableFunc(w, func(a, b int) int { return compareFloat(off[a], off[b]) })
	}
	chosen := make([]*member, 0, n)
	for len(chosen) < n {
		k := emptiest(count, waiting)
		chosen = append(chosen, all[waiting[k][0]])
		waiting[k] = waiting[k][1:]
		count[k]++
	}
	return chosen
}

func compareFloat(a, b float64) int {
	if a < b {
		return -1
	} else if a > b {
		return 1
	}
	return 0
}

func emptiest(count []int, waiting [][]int) int {
	best := -1
	for k, w := range waiting {
		if len(w) > 0 && (best < 0 || count[k] < count[best]) {
			best = k
		}
	}
	return best
}

// nearest returns the direction with the least perpendicular distance, and that distance
// squared.
func (d directions) nearest(p []float64) (int, float64) {
	norm := 0.0
	for _, v := range p {
		norm += v * v
	}
	best, along := 0, math.Inf(-1)
	for k, w := range d {
		dot := 0.0
		for i, v := range p {
			dot += v * w[i]
		}
		if dot > along {
			best, along = k, dot
		}
	}
	return best, norm - along*along
}

// intercepted scales points so that the ideal is 0 and the intercepts of the plane through
// the extreme points are 1; where there is no such plane, the largest value is.
func intercepted(points [][]float64) [][]float64 {
	low, high := bounds(points)
	span := intercepts(points, low)
	for i := range span {
		if !(span[i] > 1e-12*(high[i]-low[i])) || span[i] > high[i]-low[i] {
			span[i] = high[i] - low[i]
		}
		if span[i] == 0 {
			span[i] = 1
		}
	}
	out := make([][]float64, len(points))
	for i, p := range points {
		q := make([]float64, len(p))
		for j, v := range p {
			q[j] = (v - low[j]) / span[j]
		}
		out[i] = q
	}
	return out
}

// intercepts returns where the plane through the extreme points meets each axis, from low;
// zeros when there is no such plane.
func intercepts(points [][]float64, low []float64) []float64 {
	m := len(low)
	rows := make([][]float64, m)
	for axis := range m {
		best, least := 0, math.Inf(1)
		for k, p := range points {
			worst := 0.0
			for j, v := range p {
				d := v - low[j]
				if j != axis {
					d *= 1e6
				}
				worst = max(worst, d)
			}
			if worst < least {
				best, least = k, worst
			}
		}
		rows[axis] = make([]float64, m+1)
		for j, v := range points[best] {
			rows[axis][j] = v - low[j]
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
