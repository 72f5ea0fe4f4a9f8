package spacing

import (
	"math"
	"slices"
)

// Spread returns the indices, ascending, of n of the points: the one nearest to another is
// dropped until n are left. Distances are Euclidean with every column scaled to its range.
// The best point of every column stays as long as n allows.
func Spread(points [][]float64, n int) []int {
	scaled := Normalised(points)
	t := newNeighbours(scaled, make([]float64, len(points[0])), slices.Repeat([]float64{1}, len(points[0])))
	fixed := make([]bool, len(points))
	if n > len(points[0]) {
		for c := range points[0] {
			fixed[BestOf(points, c)] = true
		}
	}
	q := make(Queue, len(points))
	nearest := make([]int, len(points)) // when last looked at
	for _, i := range t.order {         // neighbours one after the other: what they need has just been looked at
		at, near := t.Nearest(i)
		q[i], nearest[i] = Entry{near, i}, at
	}
	q.Init()
	for left := len(points); left > n; {
		switch i := q[0].Index; {
		case fixed[i]:
			q[0].Key = math.Inf(1) // only fixed ones would be left before it comes up again
			q.Sink()
		case t.dropped[nearest[i]] && nearest[i] != i:
			// Its neighbour was dropped: distances only grow, so it is enough to look again.
			nearest[i], q[0].Key = t.Nearest(i)
			q.Sink()
		default:
			t.drop(i)
			left--
			q.Drop()
		}
	}
	alive := make([]int, 0, n)
	for i := range points {
		if !t.dropped[i] {
			alive = append(alive, i)
		}
	}
	return alive
}

func Distance2(a, b []float64) float64 {
	sum := 0.0
	b = b[:len(a)]
	for i, v := range a {
		d := v - b[i]
		sum += d * d
	}
	return sum
}

func BestOf(points [][]float64, column int) int {
	best := 0
	for i, p := range points {
		if p[column] < points[best][column] {
			best = i
		}
	}
	return best
}

// Bounds returns the least and the largest value of every column.
func Bounds(points [][]float64) (low, high []float64) {
	low, high = slices.Clone(points[0]), slices.Clone(points[0])
	for _, p := range points {
		Widen(low, high, p)
	}
	return low, high
}

// Widen widens the bounds of every column to a point without NaN, so that comparisons do, which take a third of the time of min and max.
func Widen(low, high, p []float64) {
	low, high = low[:len(p)], high[:len(p)]
	for i, v := range p {
		if v < low[i] {
			low[i] = v
		}
		if v > high[i] {
			high[i] = v
		}
	}
}

// Normalised returns copies of the points with every column scaled to 0..1, outliers beyond; a column
// without range becomes 0.
func Normalised(points [][]float64) [][]float64 {
	if len(points) == 0 {
		return nil
	}
	low, high := trimmedBounds(points)
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
