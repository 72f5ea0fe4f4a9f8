package volume

import (
	"math/bits"
	randv2 "math/rand/v2"
)

// Cutter chooses points by the volume that they dominate together, estimated on samples that stay the same.
type Cutter struct {
	samples *Samples
	covered []uint64 // by what is chosen
	bound   []int    // of each point at most what it adds; −1: chosen
}

// NewCutter draws the samples from the box between 0 and 1.1 of each objective.
func NewCutter(samples, objectives int, rng *randv2.Rand) *Cutter {
	s := NewSamples(samples, objectives, 0, 1.1, rng)
	return &Cutter{samples: s, covered: s.None()}
}

// None returns an empty set of samples.
func (c *Cutter) None() []uint64 { return c.samples.None() }

// Dominated sets dst to the samples that a point dominates, which is scaled to 0…1. Several goroutines may call it.
func (c *Cutter) Dominated(dst []uint64, p []float64) { c.samples.Dominated(dst, p) }

// Cut returns the indices of up to n of the points behind the first kept, each the one that adds most to the volume of
// the first kept and those before it; fewer than n where none of the rest adds anything. Of each point sets has what it
// dominates.
func (c *Cutter) Cut(sets [][]uint64, kept, n int) []int {
	c.bound = c.bound[:0]
	for _, set := range sets {
		c.bound = append(c.bound, CountBits(set))
	}
	clear(c.covered)
	for i := range kept {
		c.choose(sets, i)
	}
	chosen := make([]int, 0, n)
	for len(chosen) < n {
		best := c.most(sets)
		if best < 0 {
			break
		}
		c.choose(sets, best)
		chosen = append(chosen, best)
	}
	return chosen
}

func (c *Cutter) choose(sets [][]uint64, i int) {
	c.bound[i] = -1
	for w, set := range sets[i] {
		c.covered[w] |= set
	}
}

// most is the point that adds most, the first of several; −1 where none adds anything. What a point adds only ever
// shrinks, so that the last figure known is an upper bound and most points need no look.
func (c *Cutter) most(sets [][]uint64) int {
	best, most := -1, 0
	for i, bound := range c.bound {
		if bound <= most {
			continue
		}
		gain := 0
		for w, set := range sets[i] {
			gain += bits.OnesCount64(set &^ c.covered[w])
		}
		if c.bound[i] = gain; gain > most {
			best, most = i, gain
		}
	}
	return best
}
