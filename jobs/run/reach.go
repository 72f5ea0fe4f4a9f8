package run

import (
	"fmt"
	"math"
)

// part is how much of the volume of the best known front a search of so many evaluations finds.
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

// manyObjectives is the number of objectives from which known tells something: fewer need fewer evaluations.
const manyObjectives = 4

// reached is the part that a search finds: what is missing falls with a power of the evaluations between those measured. Outside of
// them it is that of the nearest measurement.
func reached(evaluations int) part {
	last := known[0]
	for _, next := range known {
		if evaluations <= next.evaluations {
			t := 1.0
			if next.evaluations > last.evaluations {
				t = math.Log(float64(max(evaluations, last.evaluations))/float64(last.evaluations)) / math.Log(float64(next.evaluations)/float64(last.evaluations))
			}
			between := func(a, b float64) float64 { return 1 - math.Pow(1-a, 1-t)*math.Pow(1-b, t) }
			return part{evaluations, between(last.least, next.least), between(last.most, next.most)}
		}
		last = next
	}
	return last
}

// tellReach says which part of the front a search of so many evaluations is likely to find, and how many find nearly all.
func tellReach(evaluations int) string {
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
	return fmt.Sprintf("%.0f to %.0f %%", min(low, high), max(low, high))
}
