package optimize

import (
	"math"
	"slices"
)

// spread returns the indices, ascending, of n of the points: the one nearest to another is
// dropped until n are left. Distances are Euclidean with every column scaled to its range.
// The best point of every column stays as long as n allows.
func spread(points [][]float64, n int) []int {
	scaled := normalised(points)
	t := newTree(scaled)
	fixed := make([]bool, len(points))
	if n > len(points[0]) {
		for c := range points[0] {
			fixed[bestOf(points, c)] = true
		}
	}
	q := make(gaps, len(points))
	for i := range points {
		at, near := t.nearest(i)
		q[i] = gap{near, i, at}
	}
	q.order()
	for left := len(points); left > n; {
		g := &q[0]
		switch i := g.point; {
		case fixed[i]:
			g.near = math.Inf(1) // only fixed ones would be left before it comes up again
		case t.gone[g.other] && g.other != i:
			// Its neighbour was dropped: distances only grow, so a new look suffices.
			g.other, g.near = t.nearest(i)
		default:
			t.drop(i)
			left--
			q[0] = q[len(q)-1]
			q = q[:len(q)-1]
		}
		q.down(0)
	}
	alive := make([]int, 0, n)
	for i := range points {
		if !t.gone[i] {
			alive = append(alive, i)
		}
	}
	return alive
}

// gap is a point's squared distance to another one, the nearest when last looked at.
type gap struct {
	near         float64
	point, other int
}

// gaps is a heap, the least first, equal ones by the point's number.
type gaps []gap

func (q gaps) less(i, j int) bool {
	if q[i].near != q[j].near {
		return q[i].near < q[j].near
	}
	return q[i].point < q[j].point
}

func (q gaps) order() {
	for i := len(q)/2 - 1; i >= 0; i-- {
		q.down(i)
	}
}

func (q gaps) down(i int) {
	for {
		k := 2*i + 1
		if k >= len(q) {
			return
		}
		if k+1 < len(q) && q.less(k+1, k) {
			k++
		}
		if !q.less(k, i) {
			return
		}
		q[i], q[k] = q[k], q[i]
		i = k
	}
}

func distance2(a, b []float64) float64 {
	sum := 0.0
	for i, v := range a {
		d := v - b[i]
		sum += d * d
	}
	return sum
}

func bestOf(points [][]float64, column int) int {
	best := 0
	for i, p := range points {
		if p[column] < points[best][column] {
			best = i
		}
	}
	return best
}

// bounds returns the least and the largest value of every column.
func bounds(points [][]float64) (low, high []float64) {
	low, high = slices.Clone(points[0]), slices.Clone(points[0])
	for _, p := range points {
		for i, v := range p {
			low[i], high[i] = min(low[i], v), max(high[i], v)
		}
	}
	return low, high
}

// normalised returns copies of the points with every column scaled to 0..1, outliers beyond; a column
// without range becomes 0.
func normalised(points [][]float64) [][]float64 {
	if len(points) == 0 {
		return nil
	}
	low, high := reach(points)
	m := len(low)
	slab, out := make([]float64, len(points)*m), make([][]float64, len(points))
	for i, p := range points {
		out[i] = slab[i*m : (i+1)*m : (i+1)*m]
		for j, v := range p {
			if high[j] > low[j] {
				out[i][j] = (v - low[j]) / (high[j] - low[j])
			}
		}
	}
	return out
}
