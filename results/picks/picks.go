package picks

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"forkfront/results/table"
)

// Pick is a candidate to look at first, and why.
type Pick struct {
	Row     int    // of the front
	Setting string // its name; empty where the front has only one
	Why     []string
	of      string // case of which it is the balanced one, see Replicates
}

// Choose picks from a front, separately for each setting: for each case, all seeds of it together, the candidate whose worst
// rank in any objective is best (the balanced one), the most balanced of these first; the preferred one, which Rank has first,
// where there is a preference; the knee of the setting's front; and for each objective the best of the setting, the
// balanced one among equals. Ranks are those among all candidates of the setting. A candidate that is chosen twice is
// listed once with both reasons.
func Choose(t *table.Table, criteria []Criterion, prefer Preference) []Pick {
	var picks []Pick
	if len(criteria) == 0 || t.Rows == 0 {
		return nil
	}
	ranks := make([][]float64, len(criteria)) // by criterion and row; only those of the setting at hand are up to date
	for i := range ranks {
		ranks[i] = make([]float64, t.Rows)
	}
	var ranked []Ranked
	if len(prefer) > 0 {
		ranked = Rank(t, criteria, prefer)
	}
	for _, setting := range Settings(t) {
		at := map[int]int{} // of each row among the picks
		add := func(row int, why string) {
			if i, there := at[row]; there {
				picks[i].Why = append(picks[i].Why, why)
				return
			}
			at[row] = len(picks)
			picks = append(picks, Pick{Row: row, Setting: setting.Name, Why: []string{why}})
		}
		for i, k := range criteria {
			k.rank(ranks[i], t, setting.Rows)
		}
		var of []int // the balanced candidate of each case, whatever its seeds
		name := map[int]string{}
		for _, r := range ReplicatesOf(t, setting.Rows) {
			row := balanced(ranks, r.Rows())
			of, name[row] = append(of, row), r.Name
		}
		slices.SortStableFunc(of, func(a, b int) int { return cmp.Compare(worst(ranks, a), worst(ranks, b)) })
		for _, row := range of {
			add(row, "balanced")
			picks[at[row]].of = name[row]
		}
		for _, row := range setting.Rows {
			if ranked != nil && ranked[row].Rank == 1 {
				add(row, "preferred")
				break
			}
		}
		if row := knee(t, criteria, setting.Rows); row >= 0 {
			add(row, "knee")
		}
		for i, k := range criteria {
			add(balanced(ranks, firsts(ranks[i], setting.Rows)), "best "+t.Columns[k.order].Label())
		}
	}
	return picks
}

// knee is the row of the knee among the given ones, -1 where there is none.
func knee(t *table.Table, criteria []Criterion, rows []int) int {
	front := make([][]float64, len(criteria))
	for i := range criteria {
		front[i] = criteria[i].values(t, rows)
	}
	if at := Knee(front); at >= 0 {
		return rows[at]
	}
	return -1
}

// mostReasons is how many reasons are listed for a candidate; the others are counted.
const mostReasons = 3

// Reasons puts them into words.
func (p *Pick) Reasons() string {
	if more := len(p.Why) - mostReasons; more > 0 {
		return fmt.Sprintf("%s and %d more", strings.Join(p.Why[:mostReasons], ", "), more)
	}
	return strings.Join(p.Why, ", ")
}

// Named are the rows of the picks by name.
func Named(t *table.Table, prefer Preference) map[string]int {
	named := map[string]int{}
	for _, p := range Choose(t, Criteria(t), prefer) {
		for _, why := range p.Why {
			named[p.name(t, why)] = p.Row
		}
	}
	return named
}

// firsts are those of the rows with the best rank; with a band or "enough" there are often many.
func firsts(ranks []float64, rows []int) (best []int) {
	for _, row := range rows {
		if ranks[row] == 0 {
			best = append(best, row)
		}
	}
	return best
}

// rank sets for each of the rows the share of them that are better, 0 for the best; equal values have equal
// ranks, and rows without a value are last.
func (k *Criterion) rank(dst []float64, t *table.Table, rows []int) {
	value := func(row int) float64 {
		if v := k.sign * t.Number(k.order, row); !math.IsNaN(v) {
			return v
		}
		return math.Inf(1)
	}
	order := slices.Clone(rows)
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(value(a), value(b)) })
	for i, row := range order {
		dst[row] = float64(i) / float64(len(rows))
		if i > 0 && value(row) == value(order[i-1]) {
			dst[row] = dst[order[i-1]]
		}
	}
}

// worst is a row's worst rank.
func worst(ranks [][]float64, row int) float64 {
	w := 0.0
	for i := range ranks {
		w = math.Max(w, ranks[i][row])
	}
	return w
}

// balanced is the member whose worst rank is best; among equals the one with the best mean.
func balanced(ranks [][]float64, members []int) int {
	best, bestWorst, bestSum := members[0], math.Inf(1), math.Inf(1)
	for _, row := range members {
		w, sum := worst(ranks, row), 0.0
		for i := range ranks {
			sum += ranks[i][row]
		}
		if w < bestWorst || w == bestWorst && sum < bestSum {
			best, bestWorst, bestSum = row, w, sum
		}
	}
	return best
}
