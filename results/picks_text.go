package results

import (
	"fmt"
	"io"
	"strings"
	"text/tabwriter"

	"forkfront/objectives"
)

// WritePicks prints the candidates to begin with, as the report names them: the balanced one of each
// case and the best in each objective, with their identifiers. A folder without candidates prints
// nothing.
func (f *Folder) WritePicks(w io.Writer) error {
	front, err := ReadTable(f.Path(FrontFile))
	if err != nil {
		return err
	}
	wanted := wantedOf(front)
	picks := pickRows(front, wanted, picksOf(front, wanted, front.Rows))
	if len(picks.Rows) == 0 {
		return nil
	}
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	fmt.Fprintf(t, "\ncandidate\t%s\twhy\n", strings.Join(picks.Heads, "\t"))
	for _, row := range picks.Rows {
		fmt.Fprintf(t, "%s\t%s\t%s\n", Shown(row.ID), strings.Join(row.Values, "\t"), Shown(row.Why))
	}
	if n := overlapping(front); n > 0 {
		fmt.Fprintf(t, "\n%s\n", overlaps(n, front.Rows))
	}
	if err := t.Flush(); err != nil {
		return fmt.Errorf("print the candidates: %w", err)
	}
	return nil
}

// overlapping counts the candidates that could not be built as they are: parts of them overlap.
func overlapping(front *Table) int {
	n := 0
	for row := range front.Rows {
		for _, name := range objectives.Apart {
			if col := front.Index(name); col >= 0 && front.Columns[col].Kind == Float && !front.Null(col, row) && front.Series[col].Floats[row] < 0 {
				n++
				break
			}
		}
	}
	return n
}

// overlaps puts such a count into words.
func overlaps(n, of int) string {
	return fmt.Sprintf("%d of %d candidates have parts that run into each other, the wheel or the frame (clearance below 0)", n, of)
}
