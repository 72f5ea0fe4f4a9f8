package optimize

import (
	"math"
	"math/bits"
	randv2 "math/rand/v2"
)

// coverage holds, for each of a set of points, which of some random samples it dominates,
// as a bit set: the samples stand for the volume where the exact one is too dear.
type coverage struct {
	sets    [][]uint64
	covered []uint64
	by      *pool
}

const coverageSamples = 20000

// newCoverage draws the samples from the box between 0 and 1.1 and keeps the first ones
// that some point dominates: the others tell nothing. points are scaled to 0..1.
func newCoverage(points [][]float64, rng *randv2.Rand, by *pool) *coverage {
	words := (coverageSamples + 63) / 64
	slab := make([]uint64, words*len(points))
	c := &coverage{sets: make([][]uint64, len(points)), covered: make([]uint64, words), by: by}
	for i := range points {
		c.sets[i] = slab[i*words : (i+1)*words]
	}
	m := len(points[0])
	samples := make([]float64, 64*words*m)
	for i := range coverageSamples * m {
		samples[i] = 1.1 * rng.Float64()
	}
	by.parts(words, func(from, to int) {
		for k := 64 * from; k < min(64*to, coverageSamples); k++ {
			c.mark(points, k, samples[k*m:(k+1)*m])
		}
	})
	return c
}

// mark notes which points dominate sample k.
func (c *coverage) mark(points [][]float64, k int, sample []float64) {
	for i, p := range points {
		if below(p, sample) {
			c.sets[i][k/64] |= 1 << (k % 64)
		}
	}
}

func below(p, sample []float64) bool {
	for j, v := range p {
		if v > sample[j] {
			return false
		}
	}
	return true
}

func (c *coverage) gain(i int) int {
	n := 0
	for w, set := range c.sets[i] {
		n += bits.OnesCount64(set &^ c.covered[w])
	}
	return n
}

// greedy chooses n points, each the one that adds most. A gain only ever shrinks, so the
// last one known is an upper bound and most points need no look.
func (c *coverage) greedy(n int) []int {
	bound, taken := make([]int, len(c.sets)), make([]bool, len(c.sets))
	for i := range bound {
		bound[i] = math.MaxInt
	}
	chosen := make([]int, 0, n)
	for len(chosen) < n {
		best, most := -1, -1
		for i := range c.sets {
			if taken[i] || bound[i] <= most {
				continue
			}
			bound[i] = c.gain(i)
			if bound[i] > most {
				best, most = i, bound[i]
			}
		}
		taken[best] = true
		chosen = append(chosen, best)
		for w, set := range c.sets[best] {
			c.covered[w] |= set
		}
	}
	return chosen
}

// exchange goes over the chosen once and puts in place of each the point that adds most to
// the others, and reports whether any changed. counts is how many chosen cover a sample.
func (c *coverage) exchange(chosen []int) bool {
	counts := make([]uint16, 64*len(c.covered))
	count := func(i int, d uint16) {
		for w, set := range c.sets[i] {
			for ; set != 0; set &= set - 1 {
				counts[64*w+bits.TrailingZeros64(set)] += d
			}
		}
	}
	taken := make(map[int]bool, len(chosen))
	for _, i := range chosen {
		count(i, 1)
		taken[i] = true
	}
	changed, gains := false, make([]int, len(c.sets))
	for k, i := range chosen {
		count(i, ^uint16(0))
		for w := range c.covered {
			c.covered[w] = 0
			for b := range 64 {
				if counts[64*w+b] > 0 {
					c.covered[w] |= 1 << b
				}
			}
		}
		c.by.parts(len(gains), func(from, to int) {
			for j := from; j < to; j++ {
				gains[j] = c.gain(j)
			}
		})
		best, most := i, gains[i]
		for j, g := range gains {
			if g > most && !taken[j] {
				best, most = j, g
			}
		}
		if best != i {
			delete(taken, i)
			taken[best] = true
			chosen[k], changed = best, true
		}
		count(chosen[k], 1)
	}
	return changed
}
