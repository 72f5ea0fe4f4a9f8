package volume

import (
	"math/bits"
	"math/rand/v2"
	"slices"
	"testing"
)

// covers are what some points dominate.
func covers(c *Cutter, points [][]float64) (all []*Cover) {
	for _, p := range points {
		own := new(Cover)
		c.Cover(own, p)
		all = append(all, own)
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
		for _, i := range c.Cut(covers(c, points), 2, 4) {
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
	if got := c.Cut(covers(c, points), 0, 3); !slices.Equal(got, []int{0}) {
		t.Errorf("chosen: %v; all others are dominated by the first", got)
	}
	if got := c.Cut(covers(c, points), 1, 2); len(got) > 0 {
		t.Errorf("chosen: %v; the one kept dominates all others", got)
	}
}

// A choice by bounds against one that works out what every point adds, before each step.
func TestCutAgainstPlainGreedy(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 5))
	c := NewCutter(500, 4, rng)
	for range 20 {
		var points [][]float64
		for range 40 { // few values, so that many points add the same
			points = append(points, []float64{float64(rng.IntN(6)) / 6, float64(rng.IntN(6)) / 6, float64(rng.IntN(6)) / 6, float64(rng.IntN(6)) / 6})
		}
		all := covers(c, points)
		covered := c.samples.None()
		add := func(i int) (n int) {
			for w, set := range all[i].Set {
				n += bits.OnesCount64(set &^ covered[w])
				covered[w] |= set
			}
			return n
		}
		add(0)
		add(1)
		var want []int
		for len(want) < 12 {
			best, most := -1, 0
			for i := 2; i < len(all); i++ {
				before := slices.Clone(covered)
				if n := add(i); n > most {
					best, most = i, n
				}
				covered = before
			}
			if best < 0 {
				break
			}
			add(best)
			want = append(want, best)
		}
		if got := c.Cut(all, 2, 12); !slices.Equal(got, want) {
			t.Fatalf("chosen: %v, want %v", got, want)
		}
	}
}
