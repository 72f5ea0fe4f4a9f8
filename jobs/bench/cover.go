package main

import (
	"math"
	"math/rand/v2"

	"forkfront/optimize/spacing"
	"forkfront/optimize/volume"
)

// cover is a set of sample points: those that a front dominates.
type cover []uint64

// with is what two fronts dominate together.
func (a cover) with(b cover) cover {
	both := make(cover, len(a))
	for i := range a {
		both[i] = a[i] | b[i]
	}
	return both
}

// scorer measures fronts by sample points that are always the same, drawn between the best values of a reference
// front and a tenth of its range beyond the worst ones.
type scorer struct {
	low, span []float64
	samples   *volume.Samples
	reference int // samples that the reference dominates
	place     []float64
	set       cover // scratch
}

const samplesDrawn = 32768

func newScorer(ref *reference) *scorer {
	low, high := spacing.Bounds(ref.points)
	s := &scorer{low: low, span: high, place: make([]float64, len(low))}
	for i := range high {
		if s.span[i] -= low[i]; s.span[i] == 0 {
			s.span[i] = 1
		}
	}
	s.samples = volume.NewSamples(samplesDrawn, len(low), 0, 1.1, rand.New(rand.NewPCG(1, 1)))
	s.set = s.none()
	all := s.none()
	for _, p := range ref.points {
		s.add(all, p)
	}
	s.reference = volume.CountBits(all)
	return s
}

func (s *scorer) none() cover { return s.samples.None() }

// add adds what a point dominates.
func (s *scorer) add(c cover, f []float64) {
	for i, v := range f {
		s.place[i] = (v - s.low[i]) / s.span[i]
	}
	s.samples.Dominated(s.set, s.place)
	for w, set := range s.set {
		c[w] |= set
	}
}

// share is a cover's volume divided by that of the reference.
func (s *scorer) share(c cover) float64 {
	return float64(volume.CountBits(c)) / math.Max(1, float64(s.reference))
}
