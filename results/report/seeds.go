package report

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"

	"forkfront/optimize/spacing"
	"forkfront/optimize/volume"
	"forkfront/results/picks"
	"forkfront/results/table"
)

// agreement is what the fronts of searches that differ in nothing but their seed say about each other.
type agreement struct {
	kind   string  // what these searches have in common: their name without the seed
	Others int     // searches compared with
	Adds   float64 // by how much one of them enlarges the front, on average, in % of its volume
	Alone  float64 // what only one front dominates, of all of these searches, in % of what all dominate together
}

const (
	// againPct is how much as many seeds again may add to all fronts together, in % of their volume, for these to count as settled.
	// Common practice, no source.
	againPct         = 3.0
	agreementSamples = 16384

	// leastSeeds is how many seeds it takes to call a front settled. A part of it that half of all searches miss is missed by two seeds
	// in one case of four.
	leastSeeds = 3
)

// agreements compares the searches of a front that differ in their seed only, by their names.
func agreements(front *table.Table) map[string]agreement {
	all := map[string]agreement{}
	name, seed := front.Index("case"), front.Index("seed")
	var columns []int
	for i := range front.Columns {
		if front.Columns[i].Source == "objective" && front.Full(i) {
			columns = append(columns, i)
		}
	}
	if name < 0 || seed < 0 || len(columns) < 2 { // of one objective, values that differ in rounding would count as a whole range
		return all
	}
	for _, r := range picks.ReplicatesOf(front, front.All()) {
		if len(r.Searches) < 2 {
			continue
		}
		for k, a := range compareSeeds(front, columns, r.Searches) {
			a.kind = r.Name
			all[front.Series[name].Texts[r.Searches[k][0]]] = a
		}
	}
	return all
}

// compareSeeds compares fronts, given by their rows, on samples of the box between the best values of all and a tenth of the range
// beyond the worst.
func compareSeeds(front *table.Table, columns []int, searches [][]int) []agreement {
	var points [][]float64
	for _, rows := range searches {
		for _, row := range rows {
			p := make([]float64, len(columns))
			for j, c := range columns {
				p[j] = front.Series[c].Floats[row]
			}
			points = append(points, p)
		}
	}
	low, high := spacing.Bounds(points)
	samples := volume.NewSamples(agreementSamples, len(columns), 0, volume.Reference, rand.New(rand.NewPCG(1, 1)))
	covers, set := make([][]uint64, len(searches)), samples.None()
	for k, rows := range searches {
		covers[k] = samples.None()
		for _, p := range points[:len(rows)] {
			for j := range p {
				if p[j] -= low[j]; high[j] > low[j] {
					p[j] /= high[j] - low[j]
				}
			}
			samples.Dominated(set, p)
			for w, bits := range set {
				covers[k][w] |= bits
			}
		}
		points = points[len(rows):]
	}
	all := make([]agreement, len(searches))
	alone := alonePct(samples, covers)
	for k, own := range covers {
		all[k].Others, all[k].Alone = len(covers)-1, alone
		for other, theirs := range covers {
			if other == k {
				continue
			}
			for w, bits := range theirs {
				set[w] = own[w] | bits
			}
			size := math.Max(1, float64(volume.CountBits(own)))
			all[k].Adds += 100 * (float64(volume.CountBits(set))/size - 1) / float64(len(covers)-1)
		}
	}
	return all
}

// alonePct is which part of the samples that all fronts cover is covered by one of them only, in %.
func alonePct(samples *volume.Samples, covers [][]uint64) float64 {
	together, shared := samples.None(), samples.None()
	for _, front := range covers {
		for w, bits := range front {
			shared[w] |= together[w] & bits
			together[w] |= bits
		}
	}
	return 100 * (1 - float64(volume.CountBits(shared))/math.Max(1, float64(volume.CountBits(together))))
}

// again is what as many seeds again are likely to add to all fronts together, in % of their volume. Of n searches that nothing tells apart the
// last one has added, on average over which is the last, an n-th of what only one has found, and one more is expected to add no more than that
// (Good, Biometrika 40 (1953) 237, for species; from memory). As each adds less than the one before, n more do not add n times as much but
// on forks about half of it, and twice the evaluations of fronts that no longer grow from nothing to twice that (jobs/docs/measured.md, "Whether a
// search has converged").
func (a agreement) again() float64 { return a.Alone / 2 }

// agree adds to a verdict on growth what other seeds say. A search commits to the basins that it finds first, and then stops
// growing whether or not these are all; so growth by itself shows only that it has not settled.
//
// othersGrow tells that another seed's front still grew.
func (t *caseTrust) agree(a agreement, othersGrow bool) {
	const more = "; give it a larger budget"
	growth := ""
	if at := strings.Index(t.Verdict, "the last"); at >= 0 {
		growth = strings.TrimSuffix(t.Verdict[at:], more)
	}
	adds := fmt.Sprintf("another seed adds %s %% to this front", percent(a.Adds))
	switch {
	case a.Others == 0 && t.Settled:
		t.Verdict = "no longer growing: " + growth + "; whether it has missed a part of the front, another seed would tell"
	case a.Others == 0:
	case a.again() >= againPct:
		t.Verdict = fmt.Sprintf("not settled: %s, and twice the evaluations are likely to bring it %s (%s)", adds, a.twice(t.Evaluations), growth)
		t.Settled = false
	case t.Settled && othersGrow:
		t.Verdict = fmt.Sprintf("not settled: another seed's front still grows, and adds %s %% to this one, on average over all; give it a larger budget (%s)", percent(a.Adds), growth)
		t.Settled = false
	case t.Settled && a.Others+1 < leastSeeds:
		t.Verdict = fmt.Sprintf("no longer growing: %s; %s. What one search in two misses, both miss in one case of 4: with a third seed the page would tell whether it has settled", growth, adds)
	case t.Settled:
		t.Verdict += fmt.Sprintf("; %s, and as many seeds again, or twice the evaluations, are likely to bring all %d together about %s %%, and not more than twice that. What one search in two misses, all %d miss in one case of %.0f",
			adds, a.Others+1, percent(a.again()), a.Others+1, math.Exp2(float64(a.Others+1)))
	default:
		t.Verdict = fmt.Sprintf("%s; %s, and twice the evaluations are likely to bring it %s%s", strings.TrimSuffix(t.Verdict, more), adds, a.twice(t.Evaluations), more)
	}
}

// twice is what twice the evaluations are likely to bring a front, as multiples of what another seed adds to it: what was measured on forks
// lies within them (jobs/docs/measured.md, "Whether a search has converged").
func (a agreement) twice(evaluations int) string {
	if evaluations < 24000 {
		return fmt.Sprintf("%s to %s %%", percent(1.5*a.Adds), percent(8*a.Adds))
	}
	return fmt.Sprintf("up to %s %%", percent(2*a.Adds))
}
