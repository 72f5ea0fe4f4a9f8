package volume

import (
	"math/bits"
	randv2 "math/rand/v2"

	"forkfront/optimize/spacing"
)

// Cutter chooses points by the volume that they dominate together, estimated on samples that stay the same.
type Cutter struct {
	samples *Samples
	covered []uint64      // by what is chosen
	queue   spacing.Queue // of those to choose from, the one that may add most first
}

// Cover is the samples that a point dominates.
type Cover struct {
	Set   []uint64
	Count int
}

// NewCutter draws the samples from the box between 0 and 1.1 of each objective.
func NewCutter(samples, objectives int, rng *randv2.Rand) *Cutter {
	s := NewSamples(samples, objectives, 0, 1.1, rng)
	return &Cutter{samples: s, covered: s.None()}
}

// Cover sets dst to the samples that a point dominates, which is scaled to 0…1. Several goroutines may call it.
func (c *Cutter) Cover(dst *Cover, p []float64) {
	if dst.Set == nil {
		dst.Set = c.samples.None()
	}
	c.samples.Dominated(dst.Set, p)
	dst.Count = CountBits(dst.Set)
}

// Cut returns the indices of up to n of the points behind the first kept, each the one that adds most to the volume of
// the first kept and those before it, the first of several; fewer than n where none of the rest adds anything. Of each point there is
// what it dominates.
func (c *Cutter) Cut(points []*Cover, kept, n int) []int {
	clear(c.covered)
	for _, p := range points[:kept] {
		c.take(p)
	}
	gain := func(i int) int { return c.gain(points[i]) }
	c.queue = c.queue[:0]
	for i, p := range points[kept:] {
		most := p.Count
		if kept > 0 { // nearly all of them add less then, and would be looked at once anyway
			most = gain(kept + i)
		}
		c.queue = append(c.queue, spacing.Entry{Key: -float64(most), Index: kept + i})
	}
	c.queue.Init()
	chosen := make([]int, 0, n)
	for len(chosen) < n && len(c.queue) > 0 {
		at, most := mostGaining(c.queue, gain)
		if most == 0 {
			break
		}
		chosen = append(chosen, at)
		c.take(points[at])
		c.queue.Drop()
	}
	return chosen
}

// mostGaining brings the point that adds most, the first of several, to the front of a queue by what each adds at most, as negative keys.
// What a point adds only ever shrinks, so that the last figure known is an upper bound and most points need no look.
func mostGaining(q spacing.Queue, gain func(i int) int) (at, most int) {
	for {
		first := &q[0]
		at, most = first.Index, gain(first.Index)
		if first.Key == -float64(most) {
			return at, most
		}
		first.Key = -float64(most)
		if q.Sink(); q[0].Index == at {
			return at, most
		}
	}
}

func (c *Cutter) take(p *Cover) {
	for w, set := range p.Set {
		c.covered[w] |= set
	}
}

// gain is what a point adds.
func (c *Cutter) gain(p *Cover) int {
	n := 0
	covered := c.covered[:len(p.Set)]
	for w, set := range p.Set {
		n += bits.OnesCount64(set &^ covered[w])
	}
	return n
}
