package jobs

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"forkfront/results"
)

// rewritten is a front with its columns changed, sealed like any other. A column whose kind changed
// holds the row number, or NULL where its values are left out.
func rewritten(t *testing.T, dir string, change func(c *results.Column) (keep, empty bool)) {
	t.Helper()
	path := filepath.Join(dir, results.FrontFile)
	table, err := results.ReadTable(path)
	if err != nil {
		t.Fatal(err)
	}
	var columns []results.Column
	var from []int
	var empty []bool
	for i, c := range table.Columns {
		keep, none := change(&c)
		c.Optional = c.Optional || none
		if keep {
			columns, from, empty = append(columns, c), append(from, i), append(empty, none)
		}
	}
	w, err := results.CreateTable(path, columns, table.Meta)
	if err != nil {
		t.Fatal(err)
	}
	for row := range table.Rows {
		for k, i := range from {
			put(w, k, &columns[k], table, i, row, empty[k])
		}
		if err := w.EndRow(); err != nil {
			t.Fatal(err)
		}
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
}

func put(w *results.TableWriter, k int, c *results.Column, table *results.Table, i, row int, empty bool) {
	s, same := &table.Series[i], c.Kind == table.Columns[i].Kind
	switch {
	case empty || same && table.Null(i, row):
		w.Null(k)
	case c.Kind == results.Float && same:
		w.Float(k, s.Floats[row])
	case c.Kind == results.Float:
		w.Float(k, float64(row))
	case c.Kind == results.Int:
		w.Int(k, int64(row))
	case c.Kind == results.Text && same:
		w.Text(k, s.Texts[row])
	case c.Kind == results.Text:
		w.Text(k, "x")
	case c.Kind == results.Bool:
		w.Bool(k, row%2 == 0)
	}
}

// A front that lacks a column, or has it as another kind or without values: what reads it works or
// says what is wrong, with an exit code that is not a panic's.
func TestFrontsOfOtherColumnsAreReadOrRefused(t *testing.T) {
	whole := tinyResults(t)
	table, err := results.ReadTable(filepath.Join(whole, results.FrontFile))
	if err != nil {
		t.Fatal(err)
	}
	id := table.Series[table.Index("candidate")].Texts[0]
	tried := 0
	for _, column := range table.Columns {
		for name, change := range map[string]func(c *results.Column) (keep, empty bool){
			"left out": func(*results.Column) (bool, bool) { return false, false },
			"empty":    func(*results.Column) (bool, bool) { return true, true },
			"other": func(c *results.Column) (bool, bool) {
				c.Kind = map[results.Kind]results.Kind{results.Text: results.Int, results.Float: results.Text, results.Int: results.Float, results.Bool: results.Text}[c.Kind]
				c.Unit, c.Sense = "", ""
				return true, false
			},
		} {
			if !strings.Contains("candidate case bike package mechanism shock_size material seed on_bike_front status reason clearance_pair", column.Name) && tried%7 != 0 {
				tried++ // the many numbers are read alike
				continue
			}
			tried++
			dir := copyFolder(t, whole)
			rewritten(t, dir, func(c *results.Column) (bool, bool) {
				if c.Name != column.Name {
					return true, false
				}
				return change(c)
			})
			for _, args := range [][]string{{"extract", dir, id}, {"extract", dir, "none"}, {"extract", dir, id, "--as", "drawing"}, {"report", dir}} {
				if code, _, said := command(t, args...); code != exitDone && said == "" {
					t.Errorf("%s %s: %v: exit %d without a word", column.Name, name, args, code)
				}
			}
		}
	}
	if tried < 100 {
		t.Errorf("%d changes tried", tried)
	}
}

// Results hold all that they need. A file that their cases name is not read.
func TestResultsReadNoOtherFile(t *testing.T) {
	dir := tinyResults(t)
	mechanism, err := os.ReadFile("mechanisms/leading-arm.yaml")
	if err != nil {
		t.Fatal(err)
	}
	outside := filepath.Join(t.TempDir(), "outside.yaml")
	if err := os.WriteFile(outside, mechanism, 0o644); err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(dir, results.CasesFile)
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	changed := strings.Replace(string(text), "mechanism: leading-arm", "mechanism: "+outside, 1)
	if err := os.WriteFile(path, []byte(changed), 0o644); err != nil || changed == string(text) {
		t.Fatalf("%v\n%s", err, text)
	}
	if code, _, said := command(t, "report", dir); code == exitDone || !strings.Contains(said, "not built in") {
		t.Errorf("exit %d: %s", code, said)
	}
}
