package results

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"
)

// pick is a candidate to begin with, and why.
type pick struct {
	row int
	why []string
}

// picksOf chooses among the first rows: for each case the candidate whose worst rank in any
// objective is best (the balanced one), and for each objective the best of all, the
// balanced one among equals. A candidate that is chosen twice is listed once with both reasons.
func picksOf(t *Table, wanted []want, rows int) []pick {
	var picks []pick
	add := func(row int, why string) {
		for i := range picks {
			if picks[i].row == row {
				picks[i].why = append(picks[i].why, why)
				return
			}
		}
		picks = append(picks, pick{row, []string{why}})
	}
	if len(wanted) == 0 || rows == 0 {
		return nil
	}
	ranks := make([][]float64, len(wanted))
	for i, w := range wanted {
		ranks[i] = t.ranks(w, rows)
	}
	for _, members := range t.groups("case", rows) {
		add(balanced(ranks, members), "balanced")
	}
	for i, w := range wanted {
		add(balanced(ranks, firsts(ranks[i])), "best "+label(&t.Columns[w.order]))
	}
	return picks
}

// mostReasons is how many reasons are listed for a candidate; the others are counted.
const mostReasons = 3

// says puts the reasons into words.
func (p *pick) says() string {
	if more := len(p.why) - mostReasons; more > 0 {
		return fmt.Sprintf("%s and %d more", strings.Join(p.why[:mostReasons], ", "), more)
	}
	return strings.Join(p.why, ", ")
}

// Picks are the candidates to begin with by name: CASE/balanced for the balanced one of each case, and
// best-MEASURE, a dash for each blank, for the best in each objective.
func (t *Table) Picks() map[string]int {
	named := map[string]int{}
	of := t.Index("case")
	for _, p := range picksOf(t, wantedOf(t), t.Rows) {
		for _, why := range p.why {
			name := strings.ReplaceAll(why, " ", "-")
			if why == "balanced" && of >= 0 {
				name = t.Series[of].Texts[p.row] + "/" + name
			}
			named[name] = p.row
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

// ranks says for each row which share of the rows is better, 0 for the best; equal values have equal
// ranks, and rows without a value are last.
func (t *Table) ranks(w want, rows int) []float64 {
	value := func(row int) float64 {
		if v := w.sign * t.number(w.order, row); !math.IsNaN(v) {
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

// groups are the rows of each value of a column of text, in the order in which these first come; all rows
// where there is no such column.
func (t *Table) groups(by string, rows int) [][]int {
	col := t.Index(by)
	var groups [][]int
	at := map[string]int{}
	for row := range rows {
		name := ""
		if col >= 0 {
			name = t.Series[col].Texts[row]
		}
		i, known := at[name]
		if !known {
			i = len(groups)
			at[name] = i
			groups = append(groups, nil)
		}
		groups[i] = append(groups[i], row)
	}
	return groups
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

// label is a column's name for people: without the unit at its end, with blanks.
func label(c *Column) string { return labelOf(strings.TrimPrefix(c.Name, "objective_")) }

func labelOf(name string) string {
	for _, u := range unitSuffixes {
		if u.unit == UnitOfName(name) && strings.HasSuffix(name, u.suffix) {
			name = strings.TrimSuffix(name, u.suffix)
			break
		}
	}
	return strings.ReplaceAll(name, "_", " ")
}

// pickTable is the picks as the page has them without its script.
type pickTable struct {
	Heads []string
	Rows  []pickRow
}

type pickRow struct {
	ID, Why string
	Values  []string
}

// Pieces are the parts of the candidate's name between which a narrow page may break it.
func (p pickRow) Pieces() []string { return strings.SplitAfter(p.ID, "/") }

func pickRows(t *Table, wanted []want, picks []pick) pickTable {
	var table pickTable
	for i := range wanted {
		table.Heads = append(table.Heads, wanted[i].notedTitle(t))
	}
	id := t.Index("candidate")
	for _, p := range picks {
		row := pickRow{ID: fmt.Sprintf("row %d", p.row), Why: p.says()}
		if id >= 0 {
			row.ID = t.Series[id].Texts[p.row]
		}
		for _, w := range wanted {
			shown := "–"
			if v := t.number(w.col, p.row); !math.IsNaN(v) {
				shown = fmt.Sprintf("%.4g", v+0) // + 0 takes the sign off a zero
			}
			row.Values = append(row.Values, shown)
		}
		table.Rows = append(table.Rows, row)
	}
	return table
}
