package results

import (
	"bytes"
	_ "embed" // the page is a file of its own
	"encoding/json"
	"errors"
	"fmt"
	"html/template"
	"io/fs"

	"github.com/google/renameio/v2"
)

//go:embed report.html.tmpl
var reportPage string

var reportTemplate = template.Must(template.New("report").Parse(reportPage))

// maxReportRows bounds what goes into the page, which has to open at once.
const maxReportRows = 5000

// reportData is what the page shows. Data goes into a script element as JSON; html/template
// escapes it there.
type reportData struct {
	Run     *RunRecord
	Caution string
	Rows    int
	Left    int // candidates that the page leaves out
	Data    reportFront
}

// reportFront is the front as the page's script reads it.
type reportFront struct {
	Axes  []Column `json:"axes"`  // what can be an axis: numbers with a sense
	Names []Column `json:"names"` // what tells candidates apart: text and whole numbers
	Rows  [][]any  `json:"rows"`  // axes then names; null where there is no value
}

// WriteReport makes report.html of the folder's front.parquet and, where there is one, run.json:
// one page that needs no network.
func (f *Folder) WriteReport() error {
	table, err := ReadTable(f.Path(FrontFile))
	if err != nil {
		return fmt.Errorf("report: %w", err)
	}
	run, err := ReadRun(f.Path(RunFile))
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return fmt.Errorf("report: %w", err)
	}
	shown := min(table.Rows, maxReportRows)
	page := reportData{Run: run, Caution: Caution, Rows: table.Rows, Left: table.Rows - shown, Data: frontOf(table, shown)}
	var text bytes.Buffer
	if err := reportTemplate.Execute(&text, page); err != nil {
		return fmt.Errorf("report: %w", err)
	}
	if err := renameio.WriteFile(f.Path(ReportFile), text.Bytes(), 0o644, renameio.WithTempDir(f.Dir)); err != nil {
		return fmt.Errorf("write the report: %w", err)
	}
	return nil
}

func frontOf(t *Table, rows int) reportFront {
	axes, names := axesOf(t), namesOf(t)
	front := reportFront{Axes: []Column{}, Names: []Column{}, Rows: make([][]any, rows)}
	for _, col := range axes {
		front.Axes = append(front.Axes, t.Columns[col])
	}
	for _, col := range names {
		front.Names = append(front.Names, t.Columns[col])
	}
	for r := range rows {
		for _, col := range append(axes[:len(axes):len(axes)], names...) {
			front.Rows[r] = append(front.Rows[r], t.value(col, r))
		}
	}
	return front
}

// axesOf chooses the columns that are axes: the objectives where the table says which these are,
// and else every number that has a better way.
func axesOf(t *Table) []int {
	var objectives, sensed []int
	for i := range t.Columns {
		c := &t.Columns[i]
		switch {
		case c.Kind != Float:
		case c.Source == "objective":
			objectives = append(objectives, i)
		case c.Sense != "":
			sensed = append(sensed, i)
		}
	}
	if len(objectives) > 1 {
		return objectives
	}
	return append(objectives, sensed...)
}

// namesOf chooses the first few columns of text and whole numbers: identity stands first in a row.
func namesOf(t *Table) []int {
	var names []int
	for i := range t.Columns {
		if k := t.Columns[i].Kind; (k == Text || k == Int) && len(names) < 5 {
			names = append(names, i)
		}
	}
	return names
}

// value returns a value as JSON writes it, nil for NULL.
func (t *Table) value(col, row int) any {
	s := &t.Series[col]
	switch {
	case t.Null(col, row):
		return nil
	case t.Columns[col].Kind == Int:
		return s.Ints[row]
	case t.Columns[col].Kind == Text:
		return s.Texts[row]
	case t.Columns[col].Kind == Bool:
		return s.Bools[row]
	}
	return json.Number(fmt.Sprintf("%.6g", s.Floats[row]))
}
