package volume

import "math"

// BestSubset returns the n of the points, in ascending order of the first column and
// descending order of the second, that together dominate the most below (1.1, 1.1).
//
// Dynamic programming over how many are chosen and which is the last. The best predecessor
// moves right with the last point, so each row is filled by halving: n·N·log N steps.
func BestSubset(points [][]float64, n int) []int {
	const ref = 1.1
	total := len(points)
	value := make([]float64, total)
	for j, p := range points {
		value[j] = (ref - p[0]) * (ref - p[1])
	}
	from := make([][]int32, n)
	for k := 1; k < n; k++ {
		next := make([]float64, total)
		from[k] = make([]int32, total)
		var fill func(low, high, first, last int)
		fill = func(low, high, first, last int) {
			if low > high {
				return
			}
			mid := (low + high) / 2
			best, at := math.Inf(-1), first
			for i := first; i <= min(last, mid-1); i++ {
				v := value[i] + (ref-points[mid][0])*(points[i][1]-points[mid][1])
				if v > best {
					best, at = v, i
				}
			}
			next[mid], from[k][mid] = best, int32(at)
			fill(low, mid-1, first, at)
			fill(mid+1, high, at, last)
		}
		fill(k, total-1, k-1, total-1)
		for j := range k {
			next[j] = math.Inf(-1)
		}
		value = next
	}
	last := 0
	for j, v := range value {
		if v > value[last] {
			last = j
		}
	}
	chosen := make([]int, n)
	for k := n - 1; k >= 0; k-- {
		chosen[k] = last
		if k > 0 {
			last = int(from[k][last])
		}
	}
	return chosen
}
