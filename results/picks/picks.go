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
	Row int // of the front
	Why []string
}

// Choose picks among the first rows: for each case the candidate whose worst rank in any
// objective is best (the balanced one), and for each objective the best of all, the
// balanced one among equals. A candidate that is chosen twice is listed once with both reasons.
func Choose(t *table.Table, criteria []Criterion, rows int) []Pick {
	var picks []Pick
	add := func(row int, why string) {
		for i := range picks {
			if picks[i].Row == row {
				picks[i].Why = append(picks[i].Why, why)
				return
			}
		}
		picks = append(picks, Pick{row, []string{why}})
	}
	if len(criteria) == 0 || rows == 0 {
		return nil
	}
	ranks := make([][]float64, len(criteria))
	for i, k := range criteria {
		ranks[i] = ranksOf(t, k, rows)
	}
	for _, members := range t.Groups("case", rows) {
		add(balanced(ranks, members), "balanced")
	}
	for i, k := range criteria {
		add(balanced(ranks, firsts(ranks[i])), "best "+t.Columns[k.order].Label())
	}
	return picks
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

// Named are the rows of the picks by name: CASE/balanced for the balanced one of each case, and
// best-MEASURE, with a dash for each space, for the best in each objective.
func Named(t *table.Table) map[string]int {
	named := map[string]int{}
	of := t.Index("case")
	for _, p := range Choose(t, Criteria(t), t.Rows) {
		for _, why := range p.Why {
			name := strings.ReplaceAll(why, " ", "-")
			if why == "balanced" && of >= 0 {
				name = t.Series[of].Texts[p.Row] + "/" + name
			}
			named[name] = p.Row
		}
	}
	return named
}

// firsts are the rows of the best rank; with a band or "enough" there are often many.
func firsts(ranks []float64) (rows []int) {
	for row, rank := range ranks {
		if rank == 0 {
			rows = append(rows, row)
		}
	}
	return rows
}

// ranksOf gives for each row the share of rows that are better, 0 for the best; equal values have equal
// ranks, and rows without a value are last.
func ranksOf(t *table.Table, k Criterion, rows int) []float64 {
	value := func(row int) float64 {
		if v := k.sign * t.Number(k.order, row); !math.IsNaN(v) {
			return v
		}
		return math.Inf(1)
	}
	order := make([]int, rows)
	for row := range order {
		order[row] = row
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(value(a), value(b)) })
	ranks := make([]float64, rows)
	for i, row := range order {
		ranks[row] = float64(i) / float64(rows)
		if i > 0 && value(row) == value(order[i-1]) {
			ranks[row] = ranks[order[i-1]]
		}
	}
	return ranks
}

// balanced is the member whose worst rank is best; among equals the one with the best mean.
func balanced(ranks [][]float64, members []int) int {
	best, bestWorst, bestSum := members[0], math.Inf(1), math.Inf(1)
	for _, row := range members {
		worst, sum := 0.0, 0.0
		for i := range ranks {
			worst, sum = math.Max(worst, ranks[i][row]), sum+ranks[i][row]
		}
		if worst < bestWorst || worst == bestWorst && sum < bestSum {
			best, bestWorst, bestSum = row, worst, sum
		}
	}
	return best
}
