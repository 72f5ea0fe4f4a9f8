package volume

import (
	"math/rand/v2"
	"slices"
	"testing"
)

// sets are what some points dominate.
func sets(c *Cutter, points [][]float64) (all [][]uint64) {
	for _, p := range points {
		set := c.None()
		c.Dominated(set, p)
		all = append(all, set)
	}
	return all
}

// The choice is that of the greedy algorithm by exact volumes (Hypervolume, which is tested against closed forms)
// as long as points differ by more than the samples' error.
func TestCutterChoosesByVolume(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 3))
	c := NewCutter(1<<16, 4, rng)
	reference := []float64{1.1, 1.1, 1.1, 1.1}
	for range 5 {
		var points [][]float64
		for range 12 {
			points = append(points, []float64{rng.Float64(), rng.Float64(), rng.Float64(), rng.Float64()})
		}
		chosen := [][]float64{points[0], points[1]} // kept
		for _, i := range c.Cut(sets(c, points), 2, 4) {
			best := 0.0
			for _, p := range points[2:] {
				best = max(best, Hypervolume(append(slices.Clone(chosen), p), reference))
			}
			chosen = append(chosen, points[i])
			if got := Hypervolume(chosen, reference); got < best-0.005 {
				t.Errorf("with point %d the volume is %.4f; %.4f is possible", i, got, best)
			}
		}
	}
}

func TestCutterStopsWhereNothingIsAdded(t *testing.T) {
	c := NewCutter(1000, 4, rand.New(rand.NewPCG(4, 4)))
	points := [][]float64{{0, 0, 0, 0}, {0.1, 0.1, 0.1, 0.1}, {0.1, 0, 0, 0}}
	if got := c.Cut(sets(c, points), 0, 3); !slices.Equal(got, []int{0}) {
		t.Errorf("chosen: %v; all others are dominated by the first", got)
	}
	if got := c.Cut(sets(c, points), 1, 2); len(got) > 0 {
		t.Errorf("chosen: %v; the one kept dominates all others", got)
	}
}
