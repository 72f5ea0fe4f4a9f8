package volume

import (
	"slices"

	"forkfront/optimize/spacing"
)

const (
	Reference = 1.1 // in every objective

	refineRadius = 0.15 // how far an exchange may go, in ranges of the objectives
	refineRounds = 3
)

// Refine replaces each of the chosen points, three columns wide, by the one nearby that adds most to the
// volume of the others, until nothing changes or three rounds are over. It returns chosen, changed.
func Refine(points [][]float64, chosen []int) []int {
	scaled := capped(spacing.Normalised(points), Reference)
	taken := make([]bool, len(points))
	set := make([][]float64, len(chosen))
	for k, i := range chosen {
		taken[i] = true
		set[k] = scaled[i]
	}
	c := newContributions(set, Reference)
	for range refineRounds {
		changed := false
		for k := range chosen {
			best, most := chosen[k], c.of(k)
			for i, p := range scaled {
				if taken[i] || spacing.Distance2(p, scaled[chosen[k]]) > refineRadius*refineRadius {
					continue
				}
				if v := c.exclusiveVolume(p, k); v > most {
					best, most = i, v
				}
			}
			if best != chosen[k] {
				taken[chosen[k]], taken[best] = false, true
				chosen[k], changed = best, true
				c.replace(k, scaled[best])
			}
		}
		if !changed {
			break
		}
	}
	return chosen
}

// replace moves point k.
func (c *contributions) replace(k int, p []float64) {
	c.points[k] = p
	at := slices.IndexFunc(c.order, func(o placed) bool { return o.index == k })
	c.order[at] = place(p, k)
	c.sort()
}
