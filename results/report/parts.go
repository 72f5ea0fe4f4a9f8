package report

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"forkfront/objectives"
	"forkfront/objectives/clearance"
	"forkfront/objectives/naming"
	"forkfront/results/table"
)

// massG is what one step of a packed mass is worth.
const massG = 0.1

// contacts takes the closest pair of parts of each candidate.
func (p *packed) contacts(t *table.Table, rows int) {
	col := t.Index("clearance_pair")
	for row := range rows {
		at := -1
		if col >= 0 && t.Columns[col].Kind == table.Text && !t.Null(col, row) {
			at = known(&p.Pairs, t.Series[col].Texts[row])
		}
		p.Closest = append(p.Closest, at)
	}
}

// known is the place of a name in a list; a new one is added.
func known(list *[]string, name string) int {
	if i := slices.Index(*list, name); i >= 0 {
		return i
	}
	*list = append(*list, name)
	return len(*list) - 1
}

// appendParts writes two tracks: what parts a candidate is made of, and their masses. A fork that has no
// sizes has two empty ones.
func (p *packed) appendParts(dst []byte, names []string, masses []float64) []byte {
	var which []float64
	for _, name := range names {
		which = append(which, float64(known(&p.Parts, name)))
	}
	return appendTrack(appendTrack(dst, which, 1), masses, massG)
}

// Directions in a packed tolerance.
const (
	eitherWay = iota // neither matters more
	alongWay
	aheadWay
	ways
)

// appendTolerances writes a track a measure that scatters: for every point of the mechanism but root and
// axle, in their order, its share of the variance in %, times three, plus the direction that matters
// more. A measure that does not scatter has an empty one.
func (p *packed) appendTolerances(dst []byte, all []objectives.Tolerance) []byte {
	for i := range all {
		t := &all[i]
		if len(p.Scatters) <= i {
			name := t.Name
			p.Scatters = append(p.Scatters, packedTolerance{name, naming.Label(t.Measure), naming.Unit(name)})
		}
		dst = appendTrack(dst, shares(t), 1)
	}
	return dst
}

func shares(t *objectives.Tolerance) []float64 {
	total := 0.0
	for _, v := range t.Pivots {
		total += v.Along*v.Along + v.Ahead*v.Ahead
	}
	if t.Why != "" || !(total > 0) || math.IsInf(total, 0) {
		return nil
	}
	var all []float64
	for _, v := range t.Pivots {
		way := map[string]float64{"along": alongWay, "ahead": aheadWay}[v.Matters]
		all = append(all, ways*math.Round(100*(v.Along*v.Along+v.Ahead*v.Ahead)/total)+way)
	}
	return all
}

// shownGaps is how many pairs of parts the page lists of a candidate to begin with.
const shownGaps = 8

// gaps takes the closest pairs, without those beside hub and rotor, which have a measure of their own.
func (k *packedPick) gaps(all []clearance.Gap) {
	slices.SortStableFunc(all, func(a, b clearance.Gap) int {
		return cmp.Or(cmp.Compare(a.GapMM, b.GapMM), strings.Compare(a.Pair, b.Pair))
	})
	for _, g := range all {
		if len(k.Gaps) < shownGaps && !strings.HasPrefix(g.Pair, "hub / ") {
			k.Gaps = append(k.Gaps, packedGap(g))
		}
	}
}
