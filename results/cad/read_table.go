package cad

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"

	"forkfront/kinematics"
	"forkfront/kinematics/mechanism"
	"forkfront/kinematics/stance"
	"forkfront/results/sideview"
)

// sameMM is the distance up to which two places in files are the same one: tables and drawings have 0.1 µm, and a
// program that turns a drawing and back loses some more.
const sameMM = 1e-3

// tableBytes is the size up to which tables are read.
const tableBytes = 4 << 20

// ReadPivotTable reads where the points of a mechanism are at top-out, in the fork frame, out of a table that
// WritePivotTable wrote and that may have been changed since, by hand or with a spreadsheet. Needed are the columns name
// and along_mm and ahead_mm, or x_top_out_mm and z_top_out_mm. Where a row has both and they differ, the one counts that
// is not at the point's place in was. A semicolon may separate the values, as spreadsheets do where the decimal sign is
// a comma. The result has one entry per row; errors name file and line.
func ReadPivotTable(file string, r io.Reader, m *mechanism.Mechanism, c *stance.Chassis, was map[string]kinematics.Vec[float64]) (map[string]kinematics.Vec[float64], error) {
	text, err := io.ReadAll(io.LimitReader(r, tableBytes+1))
	switch {
	case err != nil:
		return nil, fmt.Errorf("read %s: %w", file, err)
	case len(text) > tableBytes:
		return nil, fmt.Errorf("%s: larger than %d MB; expected a table of pivots", file, tableBytes>>20)
	}
	text = bytes.TrimPrefix(text, []byte("\ufeff"))
	t := &tableReader{file: file, in: csv.NewReader(bytes.NewReader(text)), comma: false}
	if head, _, _ := bytes.Cut(text, []byte("\n")); bytes.Contains(head, []byte(";")) {
		t.in.Comma, t.comma = ';', true
	}
	t.in.FieldsPerRecord = -1
	if t.head, err = t.in.Read(); err != nil {
		return nil, fmt.Errorf("%s: no table of pivots: %w", file, err)
	}
	if !t.has("name") || !t.has("along_mm", "ahead_mm") && !t.has("x_top_out_mm", "z_top_out_mm") {
		return nil, fmt.Errorf("%s:1: columns %.80q; expected name, and along_mm and ahead_mm or x_top_out_mm and z_top_out_mm", file, strings.Join(t.head, ","))
	}
	all := map[string]kinematics.Vec[float64]{}
	for {
		row, err := t.in.Read()
		if err == io.EOF {
			return all, nil
		}
		if err != nil {
			return nil, fmt.Errorf("%s: %w", file, err)
		}
		name := plain(t.cell(row, "name"))
		line, _ := t.in.FieldPos(0)
		switch _, twice := all[name]; {
		case name == "" && strings.Join(row, "") == "":
			continue // an empty line of a spreadsheet
		case !slices.Contains(m.Points, name):
			return nil, fmt.Errorf("%s:%d: point %q; mechanism %q has %s", file, line, name, m.Name, strings.Join(m.Points, ", "))
		case twice:
			return nil, fmt.Errorf("%s:%d: point %q is there twice", file, line, name)
		}
		if all[name], err = t.place(row, line, c, was[name]); err != nil {
			return nil, err
		}
	}
}

type tableReader struct {
	file  string
	in    *csv.Reader
	head  []string
	comma bool // decimal commas are read too
}

func (t *tableReader) has(columns ...string) bool {
	for _, c := range columns {
		if !slices.Contains(t.head, c) {
			return false
		}
	}
	return true
}

// cell is a row's value in a column; empty where the row has none.
func (t *tableReader) cell(row []string, column string) string {
	if i := slices.Index(t.head, column); i < len(row) && i >= 0 {
		return strings.TrimSpace(row[i])
	}
	return ""
}

// place is where a row puts its point.
func (t *tableReader) place(row []string, line int, c *stance.Chassis, was kinematics.Vec[float64]) (at kinematics.Vec[float64], err error) {
	number := func(column string) float64 {
		text := t.cell(row, column)
		if t.comma {
			text = strings.Replace(text, ",", ".", 1)
		}
		v, bad := strconv.ParseFloat(text, 64)
		if err == nil && (bad != nil || math.IsNaN(v) || math.IsInf(v, 0)) {
			err = fmt.Errorf("%s:%d: %s %.40q; expected a number in mm", t.file, line, column, t.cell(row, column))
		}
		return v
	}
	inFrame, onGround := t.has("along_mm", "ahead_mm"), t.has("x_top_out_mm", "z_top_out_mm")
	var frame, ground kinematics.Vec[float64]
	if inFrame {
		frame = kinematics.Vec[float64]{Along: number("along_mm"), Ahead: number("ahead_mm")}
	}
	if onGround {
		ground = sideview.FromGround(c, sideview.XZ{X: number("x_top_out_mm"), Z: number("z_top_out_mm")})
	}
	switch {
	case err != nil:
		return at, err
	case !onGround || inFrame && kinematics.Distance(frame, ground) <= sameMM:
		return frame, nil
	case !inFrame || kinematics.Distance(frame, was) <= sameMM:
		return ground, nil
	case kinematics.Distance(ground, was) <= sameMM:
		return frame, nil
	}
	return at, fmt.Errorf("%s:%d: along_mm and ahead_mm were changed, and so were x_top_out_mm and z_top_out_mm, to another place; change one of the two pairs", t.file, line)
}

// plain is a text as it was before cell marked it for spreadsheets.
func plain(text string) string {
	if marked, found := strings.CutPrefix(text, "'"); found && cell(marked) != marked {
		return marked
	}
	return text
}
