package volume

import (
	"cmp"
	"math/bits"
	randv2 "math/rand/v2"
	"slices"
)

// Samples are random places that stand for a volume where the exact one is too dear. Sets of them are held as bits, 64 in a
// word.
//
// Of each column the places are known in ascending order, and at every stride of that order the set of those from there on. So
// what a point dominates is, per column, one of these sets less at most a stride of places.
type Samples struct {
	words   int
	stride  int
	columns []sampleColumn
}

type sampleColumn struct {
	values []float64  // ascending
	order  []int32    // the places in this order
	behind [][]uint64 // places from each stride of the order on
	starts []int32    // ranks of evenly spaced values, from which a rank is a few steps
	low    float64
	scale  float64 // of these values
}

// NewSamples draws n places with values between low and high.
func NewSamples(n, columns int, low, high float64, rng *randv2.Rand) *Samples {
	const sets = 64 // per column, as a compromise between memory and places left to look at
	drawn := make([][]float64, columns)
	for j := range drawn {
		drawn[j] = make([]float64, n)
	}
	for k := range n {
		for j := range drawn {
			drawn[j][k] = low + (high-low)*rng.Float64()
		}
	}
	s := &Samples{words: (n + 63) / 64, stride: max(16, (n+sets-1)/sets)}
	for _, values := range drawn {
		s.columns = append(s.columns, s.column(values, low, high))
	}
	return s
}

func (s *Samples) column(drawn []float64, low, high float64) sampleColumn {
	n := len(drawn)
	c := sampleColumn{values: make([]float64, n), order: make([]int32, n), starts: make([]int32, n+1), low: low, scale: float64(n) / (high - low)}
	for k := range c.order {
		c.order[k] = int32(k)
	}
	slices.SortFunc(c.order, func(a, b int32) int { return cmp.Or(cmp.Compare(drawn[a], drawn[b]), cmp.Compare(a, b)) })
	c.behind = make([][]uint64, (n+s.stride-1)/s.stride)
	slab := make([]uint64, s.words*len(c.behind))
	set := make([]uint64, s.words)
	for r := n - 1; r >= 0; r-- {
		k := c.order[r]
		c.values[r] = drawn[k]
		set[k/64] |= 1 << (k % 64)
		if r%s.stride == 0 {
			at := r / s.stride
			c.behind[at] = slab[at*s.words : (at+1)*s.words]
			copy(c.behind[at], set)
		}
	}
	r := int32(0)
	for k := range c.starts {
		for edge := low + float64(k)/c.scale; int(r) < n && c.values[r] < edge; r++ {
		}
		c.starts[k] = r
	}
	return c
}

// None returns an empty set.
func (s *Samples) None() []uint64 { return make([]uint64, s.words) }

// Dominated sets dst to the places that are nowhere better than p.
func (s *Samples) Dominated(dst []uint64, p []float64) {
	for j, v := range p {
		c := &s.columns[j]
		r := c.rank(v)
		if r == len(c.values) {
			clear(dst)
			return
		}
		from := r / s.stride
		behind := c.behind[from][:len(dst)]
		if j == 0 {
			copy(dst, behind)
		} else {
			for w := range dst {
				dst[w] &= behind[w]
			}
		}
		for _, k := range c.order[from*s.stride : r] {
			dst[uint32(k)/64] &^= 1 << (uint32(k) % 64)
		}
	}
}

// rank is how many values are less than v. They are spread evenly, so that it is found in a few steps from where it is expected.
func (c *sampleColumn) rank(v float64) int {
	at := (v - c.low) * c.scale
	switch n := len(c.values); {
	case !(at > 0):
		at = 0
	case at > float64(n):
		at = float64(n)
	}
	r := int(c.starts[int(at)])
	for r > 0 && c.values[r-1] >= v {
		r--
	}
	for r < len(c.values) && c.values[r] < v {
		r++
	}
	return r
}

// CountBits is the size of a set.
func CountBits(set []uint64) int {
	n := 0
	for _, w := range set {
		n += bits.OnesCount64(w)
	}
	return n
}
