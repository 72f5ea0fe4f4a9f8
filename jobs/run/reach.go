package run

import (
	"cmp"
	"fmt"
	"math"
	"slices"
)

// part is the share of the best known front's volume that searches of a length find.
type part struct {
	evaluations int
	least, most float64
}

// known are the medians of searches of the demo's girder and of its arm, for six objectives, 10 and 12 variables
// (jobs/docs/measured.md, "How close one run comes on forks").
var known = []part{
	{6000, 0.53, 0.60},
	{24000, 0.81, 0.90},
	{60000, 0.91, 0.95},
	{600000, 0.96, 0.98},
}

// manyObjectives is the number of objectives from which known is told: with fewer it was not measured.
const manyObjectives = 4

// reached is the part that a search finds: what is missing falls with a power of the evaluations between those measured. Outside of
// them it is that of the nearest measurement.
func reached(evaluations int) part {
	i, exact := slices.BinarySearchFunc(known, evaluations, func(k part, n int) int { return cmp.Compare(k.evaluations, n) })
	switch {
	case exact, i == 0:
		return known[i]
	case i == len(known):
		return known[i-1]
	}
	from, to := &known[i-1], &known[i]
	t := math.Log(float64(evaluations)/float64(from.evaluations)) / math.Log(float64(to.evaluations)/float64(from.evaluations))
	between := func(a, b float64) float64 { return 1 - math.Pow(1-a, 1-t)*math.Pow(1-b, t) }
	return part{evaluations, between(from.least, to.least), between(from.most, to.most)}
}

// reachInWords says what share of its front's volume a search with so many evaluations typically finds, and what the longest measured
// searches find.
func reachInWords(evaluations int) string {
	p, best := reached(evaluations), known[len(known)-1]
	about := fmt.Sprintf("about %s", percents(p))
	switch {
	case evaluations < known[0].evaluations:
		about = fmt.Sprintf("less than %.0f %%", 100*known[0].most)
	case evaluations > best.evaluations:
		about = fmt.Sprintf("more than %.0f %%", 100*best.least)
	}
	text := fmt.Sprintf("in %d evaluations, searches of the demo's linkages for six objectives find %s of the volume of their fronts", evaluations, about)
	if evaluations < best.evaluations {
		text += fmt.Sprintf("; in %d about %s", best.evaluations, percents(best))
	}
	return text
}

func percents(p part) string {
	low, high := math.Round(100*p.least), math.Round(100*p.most)
	if low == high {
		return fmt.Sprintf("%.0f %%", low)
	}
	return fmt.Sprintf("%.0f to %.0f %%", low, high)
}
