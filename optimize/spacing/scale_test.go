package spacing

import (
	"math/rand/v2"
	"slices"
	"testing"
)

// simplexFront has n points on the plane Σf = 1 and, where bad is not 0, one that only a rounding error
// keeps from being dominated.
func simplexFront(objectives, n int, bad float64) [][]float64 {
	rng := rand.New(rand.NewPCG(5, 2))
	points := make([][]float64, n)
	for i := range points {
		sum := 0.0
		points[i] = make([]float64, objectives)
		for j := range points[i] {
			points[i][j] = rng.ExpFloat64()
			sum += points[i][j]
		}
		for j := range points[i] {
			points[i][j] /= sum
		}
	}
	if bad > 0 {
		points[0] = make([]float64, objectives)
		points[0][0], points[0][objectives-1] = -1e-12, bad
	}
	return points
}

// An even simplex keeps its whole range, whatever the number of objectives.
func TestReachIsTheRangeOfAnEvenFront(t *testing.T) {
	for objectives := 2; objectives <= 8; objectives++ {
		points := simplexFront(objectives, 500, 0)
		_, want := Bounds(points)
		if _, got := trimmedBounds(points); !slices.Equal(got, want) {
			t.Errorf("%d objectives: reach %v of a front that goes to %v", objectives, got, want)
		}
	}
}

// One outlier does not change which members are kept, except for one place that it takes itself.
func TestOutliersDoNotCrowdTheOthers(t *testing.T) {
	with, without := simplexFront(5, 500, 1e4), simplexFront(5, 500, 0)
	kept := Spread(with, 100)
	least := 1.0
	for _, i := range kept {
		for _, k := range kept {
			if i < k {
				least = min(least, Distance2(without[i], without[k]))
			}
		}
	}
	best := 1.0
	for n, kept := 0, Spread(without, 100); n < len(kept); n++ {
		for _, k := range kept[n+1:] {
			best = min(best, Distance2(without[kept[n]], without[k]))
		}
	}
	if least < 0.8*best {
		t.Errorf("the nearest two of those kept are %.3g apart squared, without the outlier %.3g", least, best)
	}
}
