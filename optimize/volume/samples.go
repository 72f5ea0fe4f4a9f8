package volume

import (
	"cmp"
	"math"
	"math/bits"
	randv2 "math/rand/v2"
	"slices"
)

// samples are random places that stand for a volume where the exact one is too dear. They are held by 64,
// so that those that a point dominates are one word: of each column a bit set, found by bisection.
type Samples []Block

// Block is 64 places. A column's values are in ascending order; behind[r] is the set of places from the r-th
// in that order on.
type Block []struct {
	value  [64]float64
	behind [65]uint64
}

// newSamples draws n places with values between low and high.
func NewSamples(n, columns int, low, high float64, rng *randv2.Rand) Samples {
	s := make(Samples, (n+63)/64)
	for at := range s {
		s[at] = make(Block, columns)
		for k := range 64 {
			for j := range columns {
				v := math.Inf(-1) // dominated by nothing: fills up the last block
				if 64*at+k < n {
					v = low + (high-low)*rng.Float64()
				}
				s[at][j].value[k] = v
			}
		}
		s[at].sort()
	}
	return s
}

func (b Block) sort() {
	for j := range b {
		c := &b[j]
		var order [64]int
		for k := range order {
			order[k] = k
		}
		drawn := c.value
		slices.SortFunc(order[:], func(x, y int) int { return cmp.Compare(drawn[x], drawn[y]) })
		for r := 63; r >= 0; r-- {
			c.value[r] = drawn[order[r]]
			c.behind[r] = c.behind[r+1] | 1<<order[r]
		}
	}
}

// Dominated returns which of the places in the set are nowhere better than p.
func (b Block) Dominated(p []float64, set uint64) uint64 {
	for j, v := range p {
		c := &b[j]
		r := 0
		for step := 32; step > 0; step /= 2 {
			r += step & -less(c.value[r+step-1], v)
		}
		r += less(c.value[r], v)
		if set &= c.behind[r]; set == 0 {
			break
		}
	}
	return set
}

func CountBits(set []uint64) int {
	n := 0
	for _, w := range set {
		n += bits.OnesCount64(w)
	}
	return n
}

// less is 1 where a < b, else 0, without a branch: half of them would be guessed wrongly.
func less(a, b float64) int { return int(math.Float64bits(a-b) >> 63) }
