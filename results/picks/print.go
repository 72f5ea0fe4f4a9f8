package picks

import (
	"fmt"
	"io"
	"strings"
	"text/tabwriter"

	"forkfront/objectives"
	"forkfront/results/display"
	"forkfront/results/table"
)

// Print writes the candidates to look at first, as the report names them, those of each bike below its telescopic fork, with
// what each gives and costs against it, and what they did in events. A front without candidates prints nothing.
func Print(w io.Writer, front *table.Table, prefer Preference, telescopic TelescopicOf, events *Outcomes) error {
	criteria := Criteria(front)
	picks := NewList(front, criteria, Choose(front, criteria, prefer), prefer, telescopic)
	if len(picks.Rows) == 0 {
		return nil
	}
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	fmt.Fprintf(t, "\ncandidate\t%s\trank\twhy\n", strings.Join(picks.Heads, "\t"))
	compared := false
	for _, row := range picks.Rows {
		if r := row.Telescopic; r != nil {
			compared = true
			fmt.Fprintf(t, "%s\t%s\t–\tthe fork to replace\n", display.Printable(r.Name), strings.Join(r.Values, "\t"))
		}
		fmt.Fprintf(t, "%s\t%s\t%s\t%s\n", display.Printable(row.ID), strings.Join(row.Values, "\t"), row.Rank, display.Printable(row.Why))
	}
	fmt.Fprintf(t, "\n%s\n", picks.Ranking)
	if compared {
		fmt.Fprintln(t, "\ncompared with the telescopic fork:")
		for _, row := range picks.Rows {
			fmt.Fprintf(t, "%s\t%s\n", display.Printable(row.ID), display.Printable(row.Against))
		}
	}
	var ids []string
	for _, row := range picks.Rows {
		ids = append(ids, row.ID)
	}
	NewRide(events, ids).print(t)
	for i, text := range picks.Mechanisms {
		if i == 0 {
			fmt.Fprintln(t)
		}
		fmt.Fprintln(t, display.Printable(text))
	}
	if n := Overlapping(front); n > 0 {
		fmt.Fprintf(t, "\n%s\n", OverlapText(n, front.Rows))
	}
	if err := t.Flush(); err != nil {
		return fmt.Errorf("print the candidates: %w", err)
	}
	return nil
}

// Overlapping counts the candidates that could not be built as they are: parts of them overlap.
func Overlapping(front *table.Table) int {
	n := 0
	for row := range front.Rows {
		for _, i := range objectives.GapMeasures {
			if col := front.Index(objectives.Measures[i].Name); col >= 0 && front.Columns[col].Kind == table.Float && !front.Null(col, row) && front.Series[col].Floats[row] < 0 {
				n++
				break
			}
		}
	}
	return n
}

// OverlapText puts such a count into words.
func OverlapText(n, of int) string {
	return fmt.Sprintf("%d of %d candidates have parts that collide with each other, the wheel or the frame (clearance below 0)", n, of)
}
