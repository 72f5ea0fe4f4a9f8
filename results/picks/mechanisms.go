package picks

import (
	"cmp"
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"

	"forkfront/results/table"
)

// leftBehind says of each mechanism that the list has only as the balanced one of its own searches why: which others
// dominate it, how far up it gets in the ranking, and in what it is furthest behind. One entry per setting and
// mechanism.
func leftBehind(t *table.Table, criteria []Criterion, picks []Pick, prefer Preference) []string {
	of := t.Index("mechanism")
	if of < 0 || t.Columns[of].Kind != table.Text || len(criteria) == 0 {
		return nil
	}
	ranked := Rank(t, criteria, prefer)
	var all []string
	for _, setting := range Settings(t) {
		reached := map[string]bool{}
		for _, p := range picks {
			if p.Setting == setting.Name && slices.ContainsFunc(p.Why, func(why string) bool { return why != "balanced" }) {
				reached[t.Series[of].Texts[p.Row]] = true
			}
		}
		groups := t.Groups(setting.Rows, "mechanism")
		if len(groups) < 2 {
			continue
		}
		for _, own := range groups {
			name := t.Series[of].Texts[own[0]]
			if reached[name] {
				continue
			}
			within := name
			if setting.Name != "" {
				within = setting.Name + "/" + name
			}
			first := slices.MinFunc(own, func(a, b int) int { return cmp.Compare(ranked[a].Rank, ranked[b].Rank) })
			text := fmt.Sprintf("%s is best in nothing: %s; its highest rank is %d of %d", within, dominators(t, criteria, own, setting.Rows, of), ranked[first].Rank, ranked[first].Of)
			if behind := furthestBehind(t, criteria, own, setting.Rows); behind != "" {
				text += "; furthest behind in " + behind
			}
			all = append(all, text)
		}
	}
	return all
}

// mostCompared bounds how many candidates of a mechanism are compared with all others.
const mostCompared = 200

// dominators says how many of a mechanism's candidates are dominated, and by candidates of which mechanisms. Of many,
// a sample evenly spread over its rows is compared.
func dominators(t *table.Table, criteria []Criterion, own, rows []int, of int) string {
	values := make([][]float64, len(criteria))
	for i := range criteria {
		values[i] = criteria[i].values(t, t.All())
	}
	compared := own
	if len(own) > mostCompared {
		compared = make([]int, mostCompared)
		for i := range compared {
			compared[i] = own[i*len(own)/mostCompared]
		}
	}
	dominated, by := 0, map[string]int{}
	for _, row := range compared {
		found := map[string]bool{}
		for _, other := range rows {
			if name := t.Series[of].Texts[other]; !found[name] && dominates(values, other, row) {
				found[name] = true
			}
		}
		if len(found) > 0 {
			dominated++
		}
		for name := range found {
			by[name]++
		}
	}
	share := 100 * float64(dominated) / float64(len(compared))
	if dominated == 0 {
		return "no other mechanism dominates its candidates"
	}
	names := slices.SortedFunc(maps.Keys(by), func(a, b string) int { return cmp.Or(cmp.Compare(by[b], by[a]), cmp.Compare(a, b)) })
	return fmt.Sprintf("%.0f %% of its candidates are dominated by those of %s", share, strings.Join(names, ", "))
}

// dominates reports whether a is no worse than b in every criterion and better in one.
func dominates(values [][]float64, a, b int) bool {
	better := false
	for _, of := range values {
		if !(of[a] <= of[b]) {
			return false
		}
		better = better || of[a] < of[b]
	}
	return better
}

// furthestBehind names the criterion in which the mechanism's best value is the furthest from the best of all, as a
// share of the range of all.
func furthestBehind(t *table.Table, criteria []Criterion, own, rows []int) string {
	most, text := 0.0, ""
	for i := range criteria {
		k := &criteria[i]
		all, mine := k.values(t, rows), k.values(t, own)
		best, worst, at := slices.Min(all), slices.Max(all), slices.Min(mine)
		if share := (at - best) / (worst - best); share > most && !math.IsInf(share, 0) {
			most = share
			text = fmt.Sprintf("%s (at best %s, others reach %s)", k.Name,
				shown(t.Number(k.Column, own[slices.Index(mine, at)])), shown(t.Number(k.Column, rows[slices.Index(all, best)])))
		}
	}
	return text
}
