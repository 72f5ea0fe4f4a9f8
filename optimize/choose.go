package optimize

import (
	"math"
	randv2 "math/rand/v2"

	"forkfront/optimize/spacing"
	"forkfront/optimize/volume"
)

// chooseFront picks the n members to report; 0: all of them. Two objectives: the subset with
// the largest volume. Three: those that add least are dropped one by one,
// and the rest exchanged where another adds more. More: the
// volume is sampled, and each choice is revised until none improves, twice at most.
func chooseFront(members []*member, n int, seed uint64, by volume.Parallel) []*member {
	if n == 0 || len(members) <= n {
		return append([]*member(nil), members...)
	}
	switch len(members[0].outcome.F) {
	case 1:
		return subset(members, spacing.Spread(points(members), n))
	case 2:
		return subset(members, volume.BestSubset(spacing.Normalised(points(members)), n))
	case 3:
		few := members
		if most := max(800, 2*n); len(members) > most {
			few = subset(members, spacing.Spread(points(members), most))
		}
		chosen := subset(few, volume.Cut(points(few), n, false))
		return subset(members, volume.Refine(points(members), indicesOf(members, chosen)))
	}
	c := volume.NewCoverage(spacing.Normalised(points(members)), newRand(seed, streamChoice), by)
	chosen := c.Greedy(n)
	for range 2 {
		if !c.Exchange(chosen) {
			break
		}
	}
	return subset(members, chosen)
}

// coveredSamples is how many samples stand for a volume of which a part is told in whole %.
const coveredSamples = 16384

// covered is the share of the volume that all members dominate, that some of them do, with each objective divided by its range and
// up to a tenth of that beyond the worst; 0 of none.
func covered(all, some []*member) float64 {
	switch len(all) {
	case 0:
		return 0
	case len(some):
		return 1
	}
	of := spacing.Normalised(points(all))
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
func indicesOf(members, some []*member) []int {
	index := make(map[*member]int, len(members))
	for i, m := range members {
		index[m] = i
	}
	at := make([]int, len(some))
	for k, m := range some {
		at[k] = index[m]
	}
	return at
}
