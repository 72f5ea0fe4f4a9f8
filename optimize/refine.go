package optimize

import (
	"cmp"
	"slices"
)

const (
	chosenReference = 1.1 // in every objective

	refineReach  = 0.15 // how far an exchange may go, in ranges of the objectives
	refineRounds = 3
)

// refine puts in place of each chosen member, three objectives, the one nearby that adds
// most to the volume of the others, until nothing changes or three rounds are over.
func refine(members, chosen []*member) []*member {
	scaled := capped(normalised(points(members)), chosenReference)
	index := make(map[*member]int, len(members))
	for i, m := range members {
		index[m] = i
	}
	at, taken := make([]int, len(chosen)), make([]bool, len(members))
	set := make([][]float64, len(chosen))
	for k, m := range chosen {
		at[k] = index[m]
		taken[at[k]] = true
		set[k] = scaled[at[k]]
	}
	c := newContributions(set, chosenReference)
	for range refineRounds {
		changed := false
		for k := range at {
			best, most := at[k], c.alone(c.points[k], k, k)
			for i, p := range scaled {
				if taken[i] || distance2(p, scaled[at[k]]) > refineReach*refineReach {
					continue
				}
				if v := c.alone(p, k, k); v > most {
					best, most = i, v
				}
			}
			if best != at[k] {
				taken[at[k]], taken[best] = false, true
				at[k], changed = best, true
				c.replace(k, scaled[best])
			}
		}
		if !changed {
			break
		}
	}
	return pick(members, at)
}

// replace moves point k. Values are not kept up.
func (c *contributions) replace(k int, p []float64) {
	c.points[k] = p
	last := len(p) - 1
	slices.SortStableFunc(c.order, func(i, j int) int { return cmp.Compare(c.points[i][last], c.points[j][last]) })
}
