package cad

import (
	"encoding/csv"
	"fmt"
	"io"
	"strconv"
	"strings"

	"forkfront/objectives"
	"forkfront/results/sideview"
)

// PivotTableHeader names the columns of a pivot table: a point, the bodies that it lies on, its
// place at top-out in the fork frame, and its place over the ground at three travels. The origin
// on the ground is the rear wheel's contact point; x points forward and z up.
var PivotTableHeader = []string{
	"name", "body", "along_mm", "ahead_mm",
	"x_top_out_mm", "z_top_out_mm", "x_sag_mm", "z_sag_mm", "x_bottom_out_mm", "z_bottom_out_mm",
}

// WritePivotTable writes one row per point as CSV (RFC 4180), lengths in mm to 0.1 µm. A name that a spreadsheet would
// take for a formula has an apostrophe before it.
func WritePivotTable(w io.Writer, f *sideview.Fork) error {
	s, err := f.Solve(objectives.NewScorer(f.Conditions))
	if err != nil {
		return err
	}
	out := csv.NewWriter(w)
	_ = out.Write(PivotTableHeader) // the writer keeps an error until Error is called
	stations := s.Stations()
	var at [len(stations)][]sideview.XZ
	for i := range stations {
		at[i] = s.Places(stations[i].State)
	}
	m := f.Design.Mechanism
	for point, name := range m.Points {
		layout := f.Design.Layout[point]
		row := []string{cell(name), cell(strings.Join(m.PointBodies(point), "+")), coordinate(layout.Along), coordinate(layout.Ahead)}
		for i := range at {
			row = append(row, coordinate(at[i][point].X), coordinate(at[i][point].Z))
		}
		_ = out.Write(row)
	}
	out.Flush()
	if err := out.Error(); err != nil {
		return fmt.Errorf("write the pivot table: %w", err)
	}
	return nil
}

// cell is a text as spreadsheets show it. One that begins like a formula would be computed, and may call programs or
// addresses; the apostrophe, which they do not show, marks it as text (OWASP, CSV injection; from memory). Numbers need
// none.
func cell(text string) string {
	if text != "" && strings.ContainsRune("=+-@\t\r", rune(text[0])) {
		return "'" + text
	}
	return text
}

// coordinate is a length in mm as tables and drawings have it, so that the two agree to the digit.
// 0.1 µm is finer than any shop works and coarser than what a solved position is sure to.
func coordinate(mm float64) string {
	text := strconv.FormatFloat(mm, 'f', 4, 64)
	if text == "-0.0000" {
		return "0.0000"
	}
	return text
}
