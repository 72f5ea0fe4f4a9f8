package surrogate

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/stat"
)

// Farthest picks n rows of hints, one after the other: each is the farthest from all known rows and those picked before, the
// first of equals. Distances are in the standard deviations of the rows to pick from.
func Farthest(from, known [][]float64, n int) []int {
	m := &Model{}
	m.scale(from)
	gap := make([]float64, len(from))
	for i := range gap {
		gap[i] = math.Inf(1)
		for _, k := range known {
			gap[i] = min(gap[i], m.distance2(from[i], k))
		}
	}
	var chosen []int
	for range min(n, len(from)) {
		best := 0
		for i, g := range gap {
			if g > gap[best] {
				best = i
			}
		}
		chosen = append(chosen, best)
		for i := range gap {
			gap[i] = min(gap[i], m.distance2(from[i], from[best]))
		}
		gap[best] = -1
	}
	return chosen
}

// RankCorrelation is Spearman's coefficient: 1 where two lists are in the same order, −1 where in the opposite one; equal values
// share the mean of their ranks. It is 0 where a list has fewer than two different values.
func RankCorrelation(a, b []float64) float64 {
	r := stat.Correlation(ranks(a), ranks(b), nil)
	if math.IsNaN(r) {
		return 0
	}
	return r
}

func ranks(values []float64) []float64 {
	order := make([]int, len(values))
	for i := range order {
		order[i] = i
	}
	slices.SortFunc(order, func(i, j int) int {
		switch {
		case values[i] < values[j]:
			return -1
		case values[i] > values[j]:
			return 1
		}
		return i - j
	})
	all := make([]float64, len(values))
	for from := 0; from < len(order); {
		to := from
		for to < len(order) && values[order[to]] == values[order[from]] {
			to++
		}
		for _, i := range order[from:to] {
			all[i] = float64(from+to-1) / 2
		}
		from = to
	}
	return all
}
