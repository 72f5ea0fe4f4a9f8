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
}

const (
	// seedAddsPct is how much another seed may add to a front, in % of its volume, for the front to count as settled. Common
	// practice, no source.
	seedAddsPct      = 3.0
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
	for k, own := range covers {
		all[k].Others = len(covers) - 1
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

// agree adds to a verdict on growth what other seeds say. A search commits to the basins that it finds first, and then stops
// growing whether or not these are all; so growth by itself shows only that it has not settled.
func (t *caseTrust) agree(a agreement) {
	const more = "; give it a larger budget"
	switch {
	case a.Others == 0 && t.Settled:
		t.Verdict = "no longer growing" + strings.TrimPrefix(t.Verdict, "settled") + "; whether it has missed a part of the front, another seed would tell"
	case a.Others == 0:
	case a.Adds >= seedAddsPct:
		growth := strings.TrimSuffix(t.Verdict[strings.Index(t.Verdict, "the last"):], more)
		t.Verdict = fmt.Sprintf("not settled: another seed adds %s %% of hypervolume, and twice the evaluations are likely to bring %s (%s)", percent(a.Adds), a.twice(t.Evaluations), growth)
		t.Settled = false
	case t.Settled:
		t.Verdict += fmt.Sprintf("; another seed adds %s %%, and twice the evaluations are likely to bring %s", percent(a.Adds), a.twice(t.Evaluations))
	default:
		t.Verdict = fmt.Sprintf("%s; another seed adds %s %%%s", strings.TrimSuffix(t.Verdict, more), percent(a.Adds), more)
	}
}

// twice is what twice the evaluations are likely to bring, as multiples of what another seed adds: on girder and arm of the demo
// all of 12 searches of 6,000 and 12,000 evaluations lie within the first range, and 19 of 20 of 24,000 to 75,000 within the
// second (jobs/docs/measured.md, "Whether a search has converged").
func (a agreement) twice(evaluations int) string {
	least, most := 1.5, 6.0
	if evaluations >= 24000 {
		least, most = 0.5, 2
	}
	return fmt.Sprintf("%s to %s %%", percent(least*a.Adds), percent(most*a.Adds))
}
