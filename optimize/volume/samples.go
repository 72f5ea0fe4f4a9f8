package volume

import (
	"math/bits"
	randv2 "math/rand/v2"
)

// Samples are random places that stand for a volume where the exact one is too dear. Sets of them are held as bits, 64 in a
// word.
//
// Each column is divided into cells of equal width, and of each cell the set of the places from there on is known. So what a
// point dominates is what these sets have in common but for places in its own cells, which are known in ascending order.
type Samples struct {
	words   int
	columns []sampleColumn
	all     []uint64
	low     float64
	scale   float64 // cells per unit
}

type sampleColumn struct {
	from   [][]uint64 // by cell: the places from there on
	starts []int32    // by cell, one more at the end: where its places begin
	places []ranked   // ascending
}

type ranked struct {
	value float64
	place int32
}

const (
	cells = 64 // of a column, as a compromise between memory and places left to look at
	fine  = 16 // parts of a cell by which its places are put in order at first
)

// NewSamples draws n places with values between low and high.
func NewSamples(n, columns int, low, high float64, rng *randv2.Rand) *Samples {
	s := &Samples{words: (n + 63) / 64, columns: make([]sampleColumn, columns), low: low, scale: cells / (high - low)}
	drawn := make([][]float64, columns)
	for j := range drawn {
		drawn[j] = make([]float64, n)
	}
	s.all = s.None()
	for k := range n {
		s.all[k/64] |= 1 << (k % 64)
		for j := range drawn {
			drawn[j][k] = low + (high-low)*rng.Float64()
		}
	}
	for j, values := range drawn {
		s.columns[j] = s.column(values)
	}
	return s
}

func (s *Samples) column(drawn []float64) sampleColumn {
	c := sampleColumn{from: make([][]uint64, cells), starts: make([]int32, cells+1), places: s.ascending(drawn)}
	slab := make([]uint64, s.words*cells)
	set := s.None()
	r := len(drawn)
	c.starts[cells] = int32(r)
	for at := cells - 1; at >= 0; at-- {
		for ; r > 0 && s.cell(c.places[r-1].value) == at; r-- {
			k := c.places[r-1].place
			set[k/64] |= 1 << (k % 64)
		}
		c.starts[at] = int32(r)
		c.from[at] = slab[at*s.words : (at+1)*s.words]
		copy(c.from[at], set)
	}
	return c
}

// ascending puts places in the order of their values, which are spread evenly: first by parts of cells, then the few that share one.
func (s *Samples) ascending(values []float64) []ranked {
	part := func(v float64) int { return int(min(max((v-s.low)*s.scale*fine, 0), cells*fine-1)) }
	ends := make([]int, cells*fine+1)
	for _, v := range values {
		ends[part(v)+1]++
	}
	for i := range ends[1:] {
		ends[i+1] += ends[i]
	}
	all := make([]ranked, len(values))
	for k, v := range values {
		at := &ends[part(v)]
		all[*at] = ranked{v, int32(k)}
		*at++
	}
	for r := range all {
		p := all[r]
		for ; r > 0 && all[r-1].value > p.value; r-- {
			all[r] = all[r-1]
		}
		all[r] = p
	}
	return all
}

// cell is where a value lies, one beyond all cells in the nearest one. It never falls as the value grows.
func (s *Samples) cell(v float64) int {
	switch at := (v - s.low) * s.scale; {
	case !(at > 0):
		return 0
	case at < cells:
		return int(at)
	}
	return cells - 1
}

// None returns an empty set.
func (s *Samples) None() []uint64 { return make([]uint64, s.words) }

// Dominated sets dst to the places that are nowhere better than p.
func (s *Samples) Dominated(dst []uint64, p []float64) {
	copy(dst, s.all)
	s.dominated(dst, p)
}

// Strike takes the places that are nowhere better than p out of a set; scratch is as long.
func (s *Samples) Strike(set, scratch []uint64, p []float64) {
	copy(scratch, set)
	s.dominated(scratch, p)
	for w, struck := range scratch {
		set[w] &^= struck
	}
}

// dominated takes all but the places that are nowhere better than p out of a set.
func (s *Samples) dominated(dst []uint64, p []float64) {
	left := uint64(0)
	for j := 0; j < len(p); j += together {
		left = s.meet(dst, p, j)
	}
	if left == 0 {
		return
	}
	for j, v := range p {
		c := &s.columns[j]
		for _, r := range c.places[c.starts[s.cell(v)]:] {
			if r.value >= v {
				break
			}
			dst[uint32(r.place)/64] &^= 1 << (uint32(r.place) % 64)
		}
	}
}

const together = 6

// meet sets dst to what it has in common with the sets of p's cells in some columns, and returns 0 where that is nothing. They are read
// at once: one after the other, most of the time would go into reading dst and writing it again.
func (s *Samples) meet(dst []uint64, p []float64, first int) (left uint64) {
	var sets [together][]uint64
	for i := range sets {
		sets[i] = s.all
		if j := first + i; j < len(p) {
			sets[i] = s.columns[j].from[s.cell(p[j])]
		}
	}
	n := len(dst)
	a, b, c, d, e, f := sets[0][:n], sets[1][:n], sets[2][:n], sets[3][:n], sets[4][:n], sets[5][:n]
	for w := range dst {
		both := dst[w] & a[w] & b[w] & c[w] & d[w] & e[w] & f[w]
		dst[w] = both
		left |= both
	}
	return left
}

// CountBits is the size of a set.
func CountBits(set []uint64) int {
	n := 0
	for _, w := range set {
		n += bits.OnesCount64(w)
	}
	return n
}
