package sensitivity

import (
	"cmp"
	"fmt"
	"io"
	"slices"
	"strings"
	"text/tabwriter"

	"forkfront/objectives"
	"forkfront/results/display"
)

// printedCases is how many cases are printed one by one.
const printedCases = 12

// Print lists, for the objectives of each case, the variables with the largest total indices, each with its
// standard error.
func Print(w io.Writer, all []Of) error {
	var text strings.Builder
	for _, of := range all[:min(len(all), printedCases)] {
		fmt.Fprintf(&text, "%s: %.3g %% of the designs within the bounds work\n", display.Printable(of.Case.Name), 100*of.Works)
		rows := tabwriter.NewWriter(&text, 0, 8, 2, ' ', 0)
		for i := range of.Case.Goals {
			m := of.Case.Goals[i].Measure
			if words := of.drivers(m); words != "" {
				fmt.Fprintf(rows, "  %s\t%s\n", objectives.Measures[m].Label(), words)
			}
		}
		rows.Flush()
	}
	if more := len(all) - printedCases; more > 0 {
		fmt.Fprintf(&text, "and %d more cases\n", more)
	}
	_, err := io.WriteString(w, text.String())
	return err
}

// The variables that are printed for a measure: their largest number, and the smallest share that counts.
const (
	mostDrivers = 4
	leastShare  = 0.05
)

func (of *Of) drivers(measure int) string {
	variables := of.Case.Problem().Variables()
	order := make([]int, len(variables))
	for v := range order {
		order[v] = v
	}
	index := of.Indices[measure]
	total := func(v int) float64 { return index[v].Total }
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(total(b), total(a)) })
	var words []string
	for _, v := range order[:min(len(order), mostDrivers)] {
		if total(v) >= leastShare {
			words = append(words, fmt.Sprintf("%s %.2f ± %.2f", variables[v].Name, total(v), index[v].TotalError))
		}
	}
	return strings.Join(words, ", ")
}
