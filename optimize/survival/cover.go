package survival

import (
	"slices"

	"forkfront/optimize/archive"
	"forkfront/optimize/population"
	"forkfront/optimize/random"
	"forkfront/optimize/spacing"
	"forkfront/optimize/volume"
)

// coverSamples is how many samples stand for the volume that survivors of four objectives and more dominate together.
// On the girder of the demo, whose front lies on the edges of its constraints, survival by volume reaches 0.75 of a
// reference front after 24,000 evaluations and survival by directions 0.63 (medians of 8 seeds). On DTLZ2 with six
// objectives and no constraints, where all converge soon and only the spread counts, it is 0.902 and 0.906 (5
// seeds), so that directions are kept there.
const coverSamples = 4096

// newCutter draws the samples of survival, always the same for a seed; nil where survival is by other means.
func (s *Selection) newCutter(seed uint64) *volume.Cutter {
	if m := s.settings.Objectives; m > 3 && s.settings.Constraints > 0 && !s.settings.Plain {
		return volume.NewCutter(coverSamples, m, random.New(seed, random.Survival))
	}
	return nil
}

// cover returns up to n of a feasible layer, those that enlarge the volume of the kept ones most, and the rest.
// Objectives are scaled by their range in the archive.
//
// With many objectives nearly all candidates are in the first layer, where a choice by directions spreads them
// but does not draw them nearer to the front.
func (s *Selection) cover(layer, kept []*population.Member, n int, known *archive.Archive) (chosen, rest []*population.Member) {
	var low, high []float64
	if len(known.Members) < 2 {
		low, high = spacing.Bounds(population.Points(layer))
	} else {
		low, high = known.Bounds()
	}
	all := append(feasibleOf(kept), layer...)
	at := s.cutter.Cut(s.covers(all, low, high), len(all)-len(layer), n)
	taken := make([]bool, len(all))
	for _, i := range at {
		taken[i] = true
	}
	for i := len(all) - len(layer); i < len(all); i++ {
		if !taken[i] {
			rest = append(rest, all[i])
		}
	}
	return population.Subset(all, at), rest
}

// coverFrame is the scale in which the samples of survival lie.
type coverFrame struct {
	low, high []float64
	number    int
	fresh     []*population.Member // scratch
	covers    []*volume.Cover
}

// covers returns the samples that each member dominates. Most are known from the generation before, or from the cut before this one:
// they only change with the frame.
func (s *Selection) covers(members []*population.Member, low, high []float64) []*volume.Cover {
	f := &s.coverFrame
	if !slices.Equal(f.low, low) || !slices.Equal(f.high, high) {
		f.low, f.high = append(f.low[:0], low...), append(f.high[:0], high...)
		f.number++
	}
	f.fresh, f.covers = f.fresh[:0], f.covers[:0]
	for _, m := range members {
		if m.CoversIn != f.number {
			m.CoversIn = f.number
			f.fresh = append(f.fresh, m)
		}
		f.covers = append(f.covers, &m.Covers)
	}
	s.settings.Parts(len(f.fresh), func(from, to int) {
		var room [8]float64
		place := append(room[:0], low...)
		for _, m := range f.fresh[from:to] {
			for j, v := range m.Outcome.F {
				span := high[j] - low[j]
				if span == 0 {
					span = 1
				}
				place[j] = (v - low[j]) / span
			}
			s.cutter.Cover(&m.Covers, place)
		}
	})
	return f.covers
}
