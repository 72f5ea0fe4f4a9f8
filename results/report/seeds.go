package report

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"

	"forkfront/optimize/spacing"
	"forkfront/optimize/volume"
	"forkfront/results/table"
)

// agreement is what the fronts of searches that differ in nothing but their seed say about each other.
type agreement struct {
	Others int     // searches compared with
	Adds   float64 // by how much one of them enlarges the front, on average, in % of its volume
	Alone  float64 // what only one front dominates, of all of these searches, in % of what all dominate together
}

const (
	// againPct is how much as many seeds again may add to all fronts together, in % of their volume, for these to count as settled.
	// Common practice, no source.
	againPct         = 3.0
	agreementSamples = 16384
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
	var kinds []string
	searches := map[string][][]int{} // rows of each search, by what searches have in common
	for _, rows := range front.Groups(front.All(), "case") {
		of := front.Series[name].Texts[rows[0]]
		kind := strings.TrimSuffix(of, fmt.Sprintf("/%d", front.Series[seed].Ints[rows[0]]))
		if len(searches[kind]) == 0 {
			kinds = append(kinds, kind)
		}
		searches[kind] = append(searches[kind], rows)
	}
	for _, kind := range kinds {
		if len(searches[kind]) < 2 {
			continue
		}
		for k, a := range compareSeeds(front, columns, searches[kind]) {
			all[front.Series[name].Texts[searches[kind][k][0]]] = a
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
// on forks about half of it (jobs/docs/measured.md, "Whether a search has converged").
func (a agreement) again() float64 { return a.Alone / 2 }

// agree adds to a verdict on growth what other seeds say. A search commits to the basins that it finds first, and then stops
// growing whether or not these are all; so growth by itself shows only that it has not settled.
func (t *caseTrust) agree(a agreement) {
	const more = "; give it a larger budget"
	growth := ""
	if at := strings.Index(t.Verdict, "the last"); at >= 0 {
		growth = strings.TrimSuffix(t.Verdict[at:], more)
	}
	switch {
	case a.Others == 0 && t.Settled:
		t.Verdict = "no longer growing: " + growth + "; whether it has missed a part of the front, another seed would tell"
	case a.Others == 0:
	case a.again() >= againPct:
		t.Verdict = fmt.Sprintf("not settled: %s (%s)", a.inWords(t.Evaluations), growth)
		t.Settled = false
	case t.Settled:
		t.Verdict += "; " + a.inWords(t.Evaluations)
	default:
		t.Verdict = fmt.Sprintf("%s; %s%s", strings.TrimSuffix(t.Verdict, more), a.inWords(t.Evaluations), more)
	}
}

// inWords says what seeds have added and what more of them, or a larger budget, are likely to bring.
func (a agreement) inWords(evaluations int) string {
	least, most := a.likely(evaluations)
	all := "both"
	if a.Others > 1 {
		all = fmt.Sprintf("all %d", a.Others+1)
	}
	return fmt.Sprintf("another seed adds %s %% to this front; %s together are likely to gain %s to %s %% by as many seeds again or twice the evaluations",
		percent(a.Adds), all, percent(least), percent(most))
}

// likely is what all seeds together gain by as many again or by twice the evaluations, in % of their volume, from the least to the most.
// The factors are those of girder and arm of the demo (jobs/docs/measured.md, "Whether a search has converged").
func (a agreement) likely(evaluations int) (least, most float64) {
	least, most = 0.2, 1.5
	if evaluations < 24000 {
		least, most = 0.5, 4
	}
	return least * a.again(), most * a.again()
}
