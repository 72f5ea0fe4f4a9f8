package picks

import (
	"fmt"
	"io"
	"strings"

	"forkfront/results/display"
	"forkfront/results/table"
)

// The columns of near misses that candidates of a front do not have.
const (
	nearestName = iota
	nearestViolation
	nearestViolated
	nearestReached
)

// NearestColumns are those columns, in order. They stand before all others.
func NearestColumns() []table.Column {
	return []table.Column{
		{Name: "name", Doc: "by which extract knows the candidate: CASE/nearest, CASE/nearest-2 ...", Kind: table.Text},
		{Name: "violation", Doc: "sum over the violated constraints of how far the candidate is outside, each as a share of its measure's scale", Kind: table.Float},
		{Name: "violated", Doc: "what keeps the candidate from being feasible, in words", Kind: table.Text},
		{Name: "reached_mm", Unit: "mm", Doc: "travel that the mechanism reaches", Kind: table.Float},
	}
}

// ViolatedSeparator stands between the constraints of the column violated.
const ViolatedSeparator = "; "

// NearestName is by what a near miss is asked for; rank counts from 1 in its case.
func NearestName(of string, rank int) string {
	if rank == 1 {
		return of + "/nearest"
	}
	return fmt.Sprintf("%s/nearest-%d", of, rank)
}

// Miss is a near miss as people read it.
type Miss struct {
	Row       int // of the table
	Name      string
	Violation string
	Violated  []string // one sentence per constraint
}

// MissesOf are the near misses of a case.
type MissesOf struct {
	Case   string
	Misses []Miss
}

// Misses groups a table of near misses by case. It is empty for a table that has none of their columns.
func Misses(t *table.Table) []MissesOf {
	if !t.StartsWith(NearestColumns()) {
		return nil
	}
	var all []MissesOf
	for _, rows := range t.Groups(t.All(), "case") {
		var of MissesOf
		for _, row := range rows {
			of.Misses = append(of.Misses, Miss{
				row, t.Series[nearestName].Texts[row], fmt.Sprintf("%.3g", t.Series[nearestViolation].Floats[row]),
				strings.Split(t.Series[nearestViolated].Texts[row], ViolatedSeparator),
			})
		}
		of.Case = strings.TrimSuffix(of.Misses[0].Name, "/nearest")
		all = append(all, of)
	}
	return all
}

// NamedMisses are the rows of near misses by name.
func NamedMisses(t *table.Table) map[string]int {
	named := map[string]int{}
	for _, of := range Misses(t) {
		for _, m := range of.Misses {
			named[m.Name] = m.Row
		}
	}
	return named
}

// printedCases is how many cases PrintNearest lists one by one.
const printedCases = 12

// PrintNearest prints the near misses of every case, with the constraints that each violates.
func PrintNearest(w io.Writer, t *table.Table) error {
	all := Misses(t)
	if len(all) == 0 {
		return nil
	}
	var text strings.Builder
	text.WriteString("\nnearest misses of the cases in which hardly anything or nothing is feasible (0: feasible), and what stops each:\n")
	for _, of := range all[:min(len(all), printedCases)] {
		for _, m := range of.Misses {
			fmt.Fprintf(&text, "%s, violation %s\n", display.Printable(m.Name), m.Violation)
			for _, why := range m.Violated {
				fmt.Fprintf(&text, "  %s\n", display.Printable(why))
			}
		}
	}
	if more := len(all) - printedCases; more > 0 {
		fmt.Fprintf(&text, "and those of %d more cases\n", more)
	}
	_, err := io.WriteString(w, text.String())
	if err != nil {
		return fmt.Errorf("print the near misses: %w", err)
	}
	return nil
}
