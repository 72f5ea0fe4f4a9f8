package report

import (
	"cmp"
	"fmt"
	"html/template"
	"maps"
	"math"
	"slices"
	"strings"

	"forkfront/results/rounds"
)

// raceFamily is linkages whose bodies are there for the same, as a branch of a tree: those of the last round that found something
// one by one, and the others by when they were cut and why.
type raceFamily struct {
	Does            string
	Linkages, Found int
	Last            []raceLeaf
	Cut             []string
	Ended           int // in the last round

	covered map[cutBy]*coveredLinkages
	missed  map[int]*missedLinkages // by round
}

// raceLeaf is a linkage of the last round that found something.
type raceLeaf struct {
	Name, BuiltIn string
	Bar           template.HTML // what it covers
	Says          string
}

// cutBy is what linkages that were cut have in common: the round after which, and the one that went on and covered most of what they did.
type cutBy struct {
	round int
	by    string
}

type coveredLinkages struct {
	names       []string
	least, most float64 // of what they covered, covered by the one that went on
}

// missedLinkages are those that got equally far with nothing feasible found.
type missedLinkages struct {
	last         bool
	count, spent int
	unmet        map[string]int // by limit that the nearest miss is outside
}

// family is the one that a linkage belongs to.
func (p *racePage) family(r *rounds.Row) *raceFamily {
	does := cmp.Or(r.Does, r.Mechanism)
	for _, f := range p.Families {
		if f.Does == does {
			return f
		}
	}
	f := &raceFamily{Does: does, covered: map[cutBy]*coveredLinkages{}, missed: map[int]*missedLinkages{}}
	p.Families = append(p.Families, f)
	return f
}

// add adds a linkage, with the objectives in which it alone is best and what its forks cost.
func (f *raceFamily) add(r *rounds.Row, alone, costs []string) {
	f.Linkages++
	if r.Front > 0 {
		f.Found++
	}
	if r.Outcome == rounds.Finished {
		f.Ended++
	}
	switch {
	case r.Outcome == rounds.Finished && r.Front > 0:
		f.Last = append(f.Last, raceLeaf{shortOf(r), r.BuiltIn, shareBar(r.Covers), says(r, alone, costs)})
	case r.Front > 0:
		of := cutBy{r.Rounds, r.CoveredBy}
		c := f.covered[of]
		if c == nil {
			c = &coveredLinkages{least: math.Inf(1)}
			f.covered[of] = c
		}
		c.names = append(c.names, shortOf(r))
		if r.Covered != nil {
			c.least, c.most = min(c.least, *r.Covered), max(c.most, *r.Covered)
		}
	default:
		m := f.missed[r.Rounds]
		if m == nil {
			m = &missedLinkages{last: r.Outcome == rounds.Finished, unmet: map[string]int{}}
			f.missed[r.Rounds] = m
		}
		m.count, m.spent = m.count+1, max(m.spent, r.Spent)
		for _, limit := range strings.Split(r.Unmet, ", ") {
			if limit != "" {
				m.unmet[limit]++
			}
		}
	}
}

// says puts a linkage of the last round into words: what it covers and adds, beside the control and what its forks cost.
func says(r *rounds.Row, alone, costs []string) string {
	text := "nothing within the range that is compared"
	if r.Covers != nil {
		text = fmt.Sprintf("covers %s, adds %s", rounds.Percent(r.Covers), rounds.Percent(r.Adds))
	}
	if r.BySeed != nil && r.Control != nil {
		text += fmt.Sprintf(" (one seed %s, control %s)", rounds.Percent(r.BySeed), rounds.Percent(r.Control))
	}
	if len(alone) > 0 {
		text += "; alone best in " + strings.Join(alone, ", ")
	}
	if len(costs) > 0 {
		text += "; " + strings.Join(costs, ", ")
	}
	return text
}

// tell puts the linkages that were cut into words, those that got farthest first.
func (f *raceFamily) tell() {
	for _, m := range f.missed {
		if m.last {
			f.Cut = append(f.Cut, "in the last round: "+m.tell())
		}
	}
	for _, of := range slices.SortedFunc(maps.Keys(f.covered), func(a, b cutBy) int {
		return cmp.Or(cmp.Compare(b.round, a.round), cmp.Compare(len(f.covered[b].names), len(f.covered[a].names)), cmp.Compare(a.by, b.by))
	}) {
		c := f.covered[of]
		text := fmt.Sprintf("cut after round %d: %s", of.round, listed(c.names))
		if of.by == "" {
			text += "; nothing within the range that is compared"
		} else {
			what := "each"
			if len(c.names) == 1 {
				what = "it"
			}
			text += fmt.Sprintf("; %s covered %s of what %s covered", rounds.Short(of.by), span(c.least, c.most), what)
		}
		f.Cut = append(f.Cut, text)
	}
	for _, round := range slices.Backward(slices.Sorted(maps.Keys(f.missed))) {
		if m := f.missed[round]; !m.last {
			f.Cut = append(f.Cut, fmt.Sprintf("cut after round %d: %s", round, m.tell()))
		}
	}
}

// tell says how many they are and what their nearest misses are outside, the most frequent limit first.
func (m *missedLinkages) tell() string {
	text := fmt.Sprintf("%d not found feasible within %d evaluations", m.count, m.spent)
	var limits []string
	for _, limit := range slices.SortedFunc(maps.Keys(m.unmet), func(a, b string) int {
		return cmp.Or(cmp.Compare(m.unmet[b], m.unmet[a]), cmp.Compare(a, b))
	}) {
		limits = append(limits, fmt.Sprintf("%s (%d)", limit, m.unmet[limit]))
	}
	if len(limits) > 0 {
		text += ", the nearest outside " + listed(limits)
	}
	return text
}

// listed joins some names, the first four by name.
func listed(names []string) string {
	const most = 4
	if len(names) <= most {
		return strings.Join(names, ", ")
	}
	return fmt.Sprintf("%s and %d more", strings.Join(names[:most], ", "), len(names)-most)
}

// span is a range of shares in %.
func span(least, most float64) string {
	a, b := fmt.Sprintf("%.0f", 100*least), fmt.Sprintf("%.0f", 100*most)
	if a == b {
		return a + " %"
	}
	return a + " to " + b + " %"
}
