package volume

import (
	"math/bits"
	randv2 "math/rand/v2"

	"forkfront/optimize/spacing"
)

// coverage holds, for each of a set of points, which of some random samples it dominates,
// as a bit set: the samples stand for the volume where the exact one is too dear.
type Coverage struct {
	sets    [][]uint64
	covered []uint64 // by those chosen
	by      Parallel
}

// Parallel calls do for parts of 0..n−1, some of them at once, and returns when all are done.
type Parallel func(n int, do func(from, to int))

const coverageSamples = 20000

// newCoverage draws the samples from the box between 0 and 1.1; points are scaled to 0..1.
func NewCoverage(points [][]float64, rng *randv2.Rand, by Parallel) *Coverage {
	s := NewSamples(coverageSamples, len(points[0]), 0, 1.1, rng)
	c := &Coverage{sets: make([][]uint64, len(points)), covered: s.None(), by: by}
	words := len(c.covered)
	slab := make([]uint64, words*len(points))
	by(len(points), func(from, to int) {
		for i := from; i < to; i++ {
			c.sets[i] = slab[i*words : (i+1)*words]
			s.Dominated(c.sets[i], points[i])
		}
	})
	return c
}

func (c *Coverage) gain(i int) int {
	n := 0
	for w, set := range c.sets[i] {
		n += bits.OnesCount64(set &^ c.covered[w])
	}
	return n
}

// Greedy chooses n points, each the one that adds most.
func (c *Coverage) Greedy(n int) []int {
	q := make(spacing.Queue, len(c.sets))
	for i, set := range c.sets {
		q[i] = spacing.Entry{Key: -float64(CountBits(set)), Index: i}
	}
	q.Init()
	chosen := make([]int, 0, n)
	for len(chosen) < n {
		best, _ := mostGaining(q, c.gain)
		q.Drop()
		chosen = append(chosen, best)
		for w, set := range c.sets[best] {
			c.covered[w] |= set
		}
	}
	return chosen
}

// Exchange goes over the chosen once and puts in place of each the point that adds most to
// the others, and reports whether any changed.
//
// What each point would add to all that are chosen is kept. With one of them gone it is more by what it covers
// of the samples that only that one covered, which are few. It covers all of these itself, so that only points that add
// something to all that are chosen can take its place.
func (c *Coverage) Exchange(chosen []int) bool {
	counts := make([]uint16, 64*len(c.covered)) // how many chosen cover a sample
	for _, i := range chosen {
		c.count(counts, i, 1)
	}
	gains, without := make([]int, len(c.sets)), make([]int, len(c.sets)) // without one of them: of those that can take its place
	c.by(len(gains), func(from, to int) {
		for j := from; j < to; j++ {
			gains[j] = c.gain(j)
		}
	})
	changed := false
	var lost, won []wordSubset
	for k, i := range chosen {
		lost = c.exclusiveSamples(lost[:0], i, counts)
		c.by(len(gains), func(from, to int) {
			for j := from; j < to; j++ {
				if gains[j] > 0 {
					without[j] = gains[j] + c.countCovered(j, lost)
				}
			}
		})
		best, most := i, countSamples(lost)
		for j, g := range gains {
			if g > 0 && without[j] > most {
				best, most = j, without[j]
			}
		}
		if best == i {
			continue
		}
		chosen[k], changed = best, true
		c.count(counts, i, ^uint16(0))
		c.count(counts, best, 1)
		for _, p := range lost {
			c.covered[p.word] &^= p.set
		}
		won = won[:0]
		for w, set := range c.sets[best] {
			if set &^= c.covered[w]; set != 0 {
				won = append(won, wordSubset{w, set})
				c.covered[w] |= set
			}
		}
		for j := range gains {
			gains[j] += c.countCovered(j, lost) - c.countCovered(j, won)
		}
	}
	return changed
}

// wordSubset is some samples of one word.
type wordSubset struct {
	word int
	set  uint64
}

// count adds d to the counts of what i covers.
func (c *Coverage) count(counts []uint16, i int, d uint16) {
	for w, set := range c.sets[i] {
		for ; set != 0; set &= set - 1 {
			counts[64*w+bits.TrailingZeros64(set)] += d
		}
	}
}

// exclusiveSamples appends the samples that i covers and no other one that is chosen.
func (c *Coverage) exclusiveSamples(dst []wordSubset, i int, counts []uint16) []wordSubset {
	for w, set := range c.sets[i] {
		only := uint64(0)
		for ; set != 0; set &= set - 1 {
			if k := bits.TrailingZeros64(set); counts[64*w+k] == 1 {
				only |= 1 << k
			}
		}
		if only != 0 {
			dst = append(dst, wordSubset{w, only})
		}
	}
	return dst
}

func countSamples(some []wordSubset) int {
	n := 0
	for _, p := range some {
		n += bits.OnesCount64(p.set)
	}
	return n
}

// countCovered is how many of some samples j covers.
func (c *Coverage) countCovered(j int, some []wordSubset) int {
	n := 0
	for _, p := range some {
		n += bits.OnesCount64(c.sets[j][p.word] & p.set)
	}
	return n
}
