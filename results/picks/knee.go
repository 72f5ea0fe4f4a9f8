package picks

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// Knee finds the point of a front that lies farthest below the hyperplane through its extreme points, one for each
// objective (I. Das, On characterizing the "knee" of the Pareto curve based on normal-boundary intersection,
// Structural Optimization 18, 1999, pp. 107–115). The front is given by objective and point, all minimized; each
// objective is scaled to 0 to 1 over the front. Where the extreme points do not span a hyperplane that all objectives
// fall towards, as when a point is the best in two of them, the one through 1 on every axis takes its place. Of equals
// the first is the knee; -1 where the front has fewer than three points or objectives that differ fewer than two.
func Knee(front [][]float64) int {
	if len(front) == 0 || len(front[0]) < 3 {
		return -1
	}
	var scaled [][]float64
	for _, values := range front {
		low, high := math.Inf(1), math.Inf(-1)
		for _, v := range values {
			low, high = math.Min(low, v), math.Max(high, v)
		}
		if !(high > low) || math.IsInf(high-low, 0) {
			continue
		}
		row := make([]float64, len(values))
		for i, v := range values {
			row[i] = (v - low) / (high - low)
		}
		scaled = append(scaled, row)
	}
	if len(scaled) < 2 {
		return -1
	}
	normal := hyperplane(scaled)
	knee, least := -1, math.Inf(1)
	for i := range scaled[0] {
		sum := 0.0
		for k := range scaled {
			sum += normal[k] * scaled[k][i]
		}
		if sum < least {
			knee, least = i, sum
		}
	}
	return knee
}

// worstCondition is the condition number from which the extreme points count as dependent.
const worstCondition = 1e8

// hyperplane returns a with a·f = 1 at the best point of each objective, or 1 throughout where there is no such
// hyperplane with all entries positive.
func hyperplane(scaled [][]float64) []float64 {
	m := len(scaled)
	points := mat.NewDense(m, m, nil)
	ones := mat.NewVecDense(m, nil)
	for k := range scaled {
		at, other := 0, math.Inf(1)
		for i, v := range scaled[k] {
			sum := 0.0 // among equals the one that is best in the other objectives
			for j := range scaled {
				sum += scaled[j][i]
			}
			if best := scaled[k][at]; v < best || v == best && sum < other {
				at, other = i, sum
			}
		}
		for j := range scaled {
			points.Set(k, j, scaled[j][at])
		}
		ones.SetVec(k, 1)
	}
	flat := make([]float64, m)
	for i := range flat {
		flat[i] = 1
	}
	var lu mat.LU
	lu.Factorize(points)
	var a mat.VecDense
	if !(lu.Cond() < worstCondition) || lu.SolveVecTo(&a, false, ones) != nil {
		return flat
	}
	normal := make([]float64, m)
	for k := range normal {
		if normal[k] = a.AtVec(k); !(normal[k] > 0) {
			return flat
		}
	}
	return normal
}
