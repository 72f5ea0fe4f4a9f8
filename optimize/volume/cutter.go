package volume

import (
	"math/bits"
	randv2 "math/rand/v2"
)

// Cutter chooses points by the volume that they dominate together, estimated on samples that stay the same. It keeps
// its memory from one cut to the next.
type Cutter struct {
	samples *Samples
	sets    []uint64 // of each point the samples that it dominates, 64 in a word
	covered []uint64 // by what is chosen
	bound   []int    // of each point at most what it adds; −1: chosen
}

// NewCutter draws the samples from the box between 0 and 1.1 of each objective.
func NewCutter(samples, objectives int, rng *randv2.Rand) *Cutter {
	s := NewSamples(samples, objectives, 0, 1.1, rng)
	return &Cutter{samples: s, covered: s.None()}
}

// Cut returns the indices of up to n of the points behind the first kept, each the one that adds most to the volume of
// the first kept and those before it; fewer than n where none of the rest adds anything. Points are scaled to 0…1.
func (c *Cutter) Cut(points [][]float64, kept, n int, by Parallel) []int {
	c.measure(points, by)
	clear(c.covered)
	for i := range kept {
		c.choose(i)
	}
	chosen := make([]int, 0, n)
	for len(chosen) < n {
		best := c.most()
		if best < 0 {
			break
		}
		c.choose(best)
		chosen = append(chosen, best)
	}
	return chosen
}

// measure finds what each point dominates.
func (c *Cutter) measure(points [][]float64, by Parallel) {
	words := len(c.covered)
	if need := words * len(points); cap(c.sets) < need {
		c.sets, c.bound = make([]uint64, need), make([]int, len(points))
	}
	c.sets, c.bound = c.sets[:words*len(points)], c.bound[:len(points)]
	by(len(points), func(from, to int) {
		for i := from; i < to; i++ {
			set := c.set(i)
			c.samples.Dominated(set, points[i])
			c.bound[i] = CountBits(set)
		}
	})
}

func (c *Cutter) set(i int) []uint64 { return c.sets[i*len(c.covered) : (i+1)*len(c.covered)] }

func (c *Cutter) choose(i int) {
	c.bound[i] = -1
	for w, set := range c.set(i) {
		c.covered[w] |= set
	}
}

// most is the point that adds most, the first of several; −1 where none adds anything. What a point adds only ever
// shrinks, so that the last figure known is an upper bound and most points need no look.
func (c *Cutter) most() int {
	best, most := -1, 0
	for i, bound := range c.bound {
		if bound <= most {
			continue
		}
		gain := 0
		for w, set := range c.set(i) {
			gain += bits.OnesCount64(set &^ c.covered[w])
		}
		if c.bound[i] = gain; gain > most {
			best, most = i, gain
		}
	}
	return best
}
