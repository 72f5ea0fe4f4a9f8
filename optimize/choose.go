package optimize

import (
	"forkfront/optimize/spacing"
	"forkfront/optimize/volume"
)

// choose picks the n members to report; 0: all of them. Two objectives: the subset with
// the largest volume. Three: those that add least are dropped one by one,
// and the rest exchanged where another adds more. More: the
// volume is sampled, and each choice is revised until none improves, twice at most.
func choose(members []*member, n int, seed uint64, by volume.Parallel) []*member {
	if n == 0 || len(members) <= n {
		return append([]*member(nil), members...)
	}
	switch len(members[0].out.F) {
	case 1:
		return pick(members, spacing.Spread(points(members), n))
	case 2:
		return pick(members, volume.BestSubset(spacing.Normalised(points(members)), n))
	case 3:
		few := members
		if most := max(800, 2*n); len(members) > most {
			few = pick(members, spacing.Spread(points(members), most))
		}
		chosen := pick(few, volume.Cut(points(few), n, false))
		return pick(members, volume.Refine(points(members), places(members, chosen)))
	}
	c := volume.NewCoverage(spacing.Normalised(points(members)), newRand(seed, streamChoice), by)
	chosen := c.Greedy(n)
	for range 2 {
		if !c.Exchange(chosen) {
			break
		}
	}
	return pick(members, chosen)
}

// places returns where some of the members are among all of them.
func places(members, some []*member) []int {
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

func pick(members []*member, at []int) []*member {
	out := make([]*member, len(at))
	for i, k := range at {
		out[i] = members[k]
	}
	return out
}
