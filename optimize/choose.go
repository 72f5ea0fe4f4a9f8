package optimize

import (
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

func subset(members []*member, at []int) []*member {
	out := make([]*member, len(at))
	for i, k := range at {
		out[i] = members[k]
	}
	return out
}
