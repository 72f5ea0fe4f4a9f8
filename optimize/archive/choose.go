package archive

import (
	"math"
	randv2 "math/rand/v2"

	"forkfront/optimize/population"
	"forkfront/optimize/random"
	"forkfront/optimize/spacing"
	"forkfront/optimize/volume"
)

// Choose picks the n members to report; 0: all of them. Two objectives: the subset with
// the largest volume. Three: those that add least are dropped one by one,
// and the rest exchanged where another adds more. More: the
// volume is sampled by a stream of the seed, and each choice is revised until none improves, twice at most.
func Choose(members []*population.Member, n int, seed uint64, by volume.Parallel) []*population.Member {
	if n == 0 || len(members) <= n {
		return append([]*population.Member(nil), members...)
	}
	switch len(members[0].Outcome.F) {
	case 1:
		return population.Subset(members, spacing.Spread(population.Points(members), n))
	case 2:
		return population.Subset(members, volume.BestSubset(spacing.Normalised(population.Points(members)), n))
	case 3:
		few := members
		if most := max(800, 2*n); len(members) > most {
			few = population.Subset(members, spacing.Spread(population.Points(members), most))
		}
		chosen := population.Subset(few, volume.Cut(population.Points(few), n, false))
		return population.Subset(members, volume.Refine(population.Points(members), indicesOf(members, chosen)))
	}
	c := volume.NewCoverage(spacing.Normalised(population.Points(members)), random.New(seed, random.Choice), by)
	chosen := c.Greedy(n)
	for range 2 {
		if !c.Exchange(chosen) {
			break
		}
	}
	return population.Subset(members, chosen)
}

// coveredSamples is how many samples stand for a volume of which a part is told in whole %.
const coveredSamples = 16384

// Covered is the share of the volume that all members dominate, that some of them do, with each objective divided by its range and
// up to a tenth of that beyond the worst: 0 to 1, and 0 of none.
func Covered(all, some []*population.Member) float64 {
	switch len(all) {
	case 0:
		return 0
	case len(some):
		return 1
	}
	of := spacing.Normalised(population.Points(all))
	s := volume.NewSamples(coveredSamples, len(of[0]), 0, volume.Reference, randv2.New(randv2.NewPCG(1, 1))) // others than those that the choice is made by
	whole, part, set := s.None(), s.None(), s.None()
	join := func(to []uint64, i int) {
		s.Dominated(set, of[i])
		for w, bits := range set {
			to[w] |= bits
		}
	}
	for i := range of {
		join(whole, i)
	}
	for _, i := range indicesOf(all, some) {
		join(part, i)
	}
	return float64(volume.CountBits(part)) / math.Max(1, float64(volume.CountBits(whole)))
}

// indicesOf returns where some of the members are among all of them.
func indicesOf(members, some []*population.Member) []int {
	index := make(map[*population.Member]int, len(members))
	for i, m := range members {
		index[m] = i
	}
	at := make([]int, len(some))
	for k, m := range some {
		at[k] = index[m]
	}
	return at
}
