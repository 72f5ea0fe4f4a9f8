package sensitivity

import (
	"cmp"
	"math"
	"math/rand/v2"
	"slices"
)

// firstOrder is the rank estimator of Gamboa, Gremaud, Klein and Lagnoux (2022, Bernoulli 28), after Chatterjee: designs
// that are next to each other in the variable have nearly the same conditional mean, so the mean product of their
// outputs is the mean square of that. Equal values of a discrete variable are put in random order.
func firstOrder(x, y []float64, mean, variance float64, random *rand.Rand) float64 {
	n := len(x)
	if n < 2 {
		return 0
	}
	order := random.Perm(n)
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(x[a], x[b]) })
	sum := 0.0
	for i, at := range order {
		sum += (y[at] - mean) * (y[order[(i+1)%n]] - mean)
	}
	return sum / float64(n) / variance
}

// batches is how many parts of a sample tell the error of what it gives.
const batches = 20

// firstOrderError is the standard error of firstOrder: designs are drawn independently, so the scatter of the index of
// parts of the sample, taken by turns, is √batches times that of the whole. 0 where parts are too small to tell.
func firstOrderError(x, y []float64, random *rand.Rand) float64 {
	if len(y) < 4*batches {
		return 0
	}
	parts := make([]float64, batches)
	for k := range parts {
		var px, py []float64
		for i := k; i < len(y); i += batches {
			px, py = append(px, x[i]), append(py, y[i])
		}
		if mean, variance := moments(py); variance > 0 {
			parts[k] = firstOrder(px, py, mean, variance, random)
		}
	}
	_, scatter := moments(parts)
	return math.Sqrt(scatter / (batches - 1))
}

// moments are the mean and the variance, divided by the number of values; 0 of none.
func moments(y []float64) (mean, variance float64) {
	if len(y) == 0 {
		return 0, 0
	}
	for _, v := range y {
		mean += v
	}
	mean /= float64(len(y))
	for _, v := range y {
		variance += (v - mean) * (v - mean)
	}
	return mean, variance / float64(len(y))
}

// spearman is the correlation of ranks; equal values share their mean rank.
func spearman(x, y []float64) float64 {
	a, b := ranks(x), ranks(y)
	ma, va := moments(a)
	mb, vb := moments(b)
	if !(va*vb > 0) {
		return 0
	}
	sum := 0.0
	for i := range a {
		sum += (a[i] - ma) * (b[i] - mb)
	}
	return sum / float64(len(a)) / math.Sqrt(va*vb)
}

// rankAmong is the share of the values that are below one, counting half of those that are equal.
func rankAmong(y []float64) func(float64) float64 {
	sorted := slices.Clone(y)
	slices.Sort(sorted)
	return func(v float64) float64 {
		below, _ := slices.BinarySearch(sorted, v)
		upTo, _ := slices.BinarySearch(sorted, math.Nextafter(v, math.Inf(1)))
		return float64(below+upTo) / 2 / float64(len(sorted))
	}
}

func ranks(x []float64) []float64 {
	order := make([]int, len(x))
	for i := range order {
		order[i] = i
	}
	slices.SortFunc(order, func(a, b int) int { return cmp.Compare(x[a], x[b]) })
	all := make([]float64, len(x))
	for i := 0; i < len(order); {
		j := i + 1
		for j < len(order) && x[order[j]] == x[order[i]] {
			j++
		}
		for _, at := range order[i:j] {
			all[at] = float64(i+j-1) / 2
		}
		i = j
	}
	return all
}
