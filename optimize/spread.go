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
	total := len(points)
	near, at := make([]float64, total), make([]int, total)
	alive := make([]int, total)
	for i := range alive {
		alive[i] = i
		near[i] = math.Inf(1)
	}
	for i := range scaled {
		for j := i + 1; j < total; j++ {
			d := distance2(scaled[i], scaled[j])
			if d < near[i] {
				near[i], at[i] = d, j
			}
			if d < near[j] {
				near[j], at[j] = d, i
			}
		}
	}
	fixed := make([]bool, total)
	if n > len(points[0]) {
		for c := range points[0] {
			fixed[bestOf(points, c)] = true
		}
	}
	for len(alive) > n {
		drop := nearest(alive, near, fixed)
		gone := alive[drop]
		alive = slices.Delete(alive, drop, drop+1)
		for _, i := range alive {
			if at[i] == gone {
				near[i], at[i] = nearestOther(scaled, alive, i)
			}
		}
	}
	return alive
}

// nearest returns the position in alive of the member to drop.
func nearest(alive []int, near []float64, fixed []bool) int {
	drop, least := -1, math.Inf(1)
	for k, i := range alive {
		if !fixed[i] && (drop < 0 || near[i] < least) {
			drop, least = k, near[i]
		}
	}
	return drop
}

func nearestOther(scaled [][]float64, alive []int, i int) (float64, int) {
	best, at := math.Inf(1), i
	for _, j := range alive {
		if j == i {
			continue
		}
		if d := distance2(scaled[i], scaled[j]); d < best {
			best, at = d, j
		}
	}
	return best, at
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

// normalised returns copies of the points with every column scaled to 0..1; a column
// without range becomes 0.
func normalised(points [][]float64) [][]float64 {
	if len(points) == 0 {
		return nil
	}
	low, high := bounds(points)
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
