package jobs

import (
	"crypto/sha256"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"forkfront/jobs/process"
	"forkfront/jobs/store"
	"forkfront/results"
	"forkfront/results/table"
)

// rewritten is a front with its columns changed, sealed like any other. A column whose kind changed
// holds the row number, or NULL where its values are left out.
func rewritten(t testing.TB, dir string, change func(c *table.Column) (keep, empty bool)) {
	t.Helper()
	rewrittenWith(t, dir, func(map[string]string) {}, change)
}

// putCases gives a results folder another cases.yaml, and its front the checksum of that.
func putCases(t testing.TB, dir string, text []byte) {
	t.Helper()
	if err := os.WriteFile(filepath.Join(dir, results.CasesFile), text, 0o600); err != nil {
		t.Fatal(err)
	}
	rewrittenWith(t, dir, func(meta map[string]string) {
		if meta[store.CasesSeal] == "" {
			t.Fatal("the front has no checksum of its cases.yaml")
		}
		meta[store.CasesSeal] = fmt.Sprintf("%x", sha256.Sum256(text))
	}, func(*table.Column) (bool, bool) { return true, false })
}

func rewrittenWith(t testing.TB, dir string, remark func(meta map[string]string), change func(c *table.Column) (keep, empty bool)) {
	t.Helper()
	path := filepath.Join(dir, results.FrontFile)
	front, err := table.Read(path)
	if err != nil {
		t.Fatal(err)
	}
	var columns []table.Column
	var from []int
	var empty []bool
	for i, c := range front.Columns {
		keep, none := change(&c)
		c.Optional = c.Optional || none
		if keep {
			columns, from, empty = append(columns, c), append(from, i), append(empty, none)
		}
	}
	remark(front.Meta)
	w, err := table.Create(path, columns, front.Meta)
	if err != nil {
		t.Fatal(err)
	}
	for row := range front.Rows {
		for k, i := range from {
			put(w, k, &columns[k], front, i, row, empty[k])
		}
		if err := w.EndRow(); err != nil {
			t.Fatal(err)
		}
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
}

func put(w *table.Writer, k int, c *table.Column, front *table.Table, i, row int, empty bool) {
	s, same := &front.Series[i], c.Kind == front.Columns[i].Kind
	switch {
	case empty || same && front.Null(i, row):
		w.Null(k)
	case c.Kind == table.Float && same:
		w.Float(k, s.Floats[row])
	case c.Kind == table.Float:
		w.Float(k, float64(row))
	case c.Kind == table.Int:
		w.Int(k, int64(row))
	case c.Kind == table.Text && same:
		w.Text(k, s.Texts[row])
	case c.Kind == table.Text:
		w.Text(k, "x")
	case c.Kind == table.Bool:
		w.Bool(k, row%2 == 0)
	}
}

// A front that lacks a column, or has it as another kind or without values: what reads it works or
// says what is wrong, with an exit code that is not a panic's.
func TestFrontsOfOtherColumnsAreReadOrRefused(t *testing.T) {
	t.Parallel()
	whole := tinyResults(t)
	front, err := table.Read(filepath.Join(whole, results.FrontFile))
	if err != nil {
		t.Fatal(err)
	}
	id := front.Series[front.Index("candidate")].Texts[0]
	tried := 0
	for _, column := range front.Columns {
		for name, change := range map[string]func(c *table.Column) (keep, empty bool){
			"left out": func(*table.Column) (bool, bool) { return false, false },
			"empty":    func(*table.Column) (bool, bool) { return true, true },
			"other": func(c *table.Column) (bool, bool) {
				c.Kind = map[table.Kind]table.Kind{table.Text: table.Int, table.Float: table.Text, table.Int: table.Float, table.Bool: table.Text}[c.Kind]
				c.Unit, c.Sense = "", ""
				return true, false
			},
		} {
			if !strings.Contains("candidate case bike package mechanism shock_size material seed on_bike_front status reason clearance_pair", column.Name) && tried%42 != 0 {
				tried++ // the many numbers are read alike
				continue
			}
			tried++
			dir := copyFolder(t, whole)
			rewritten(t, dir, func(c *table.Column) (bool, bool) {
				if c.Name != column.Name {
					return true, false
				}
				return change(c)
			})
			for _, args := range [][]string{{"extract", dir, id}, {"report", dir}} {
				if code, _, said := command(t, args...); code != process.Done && said == "" {
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
	if changed == string(text) {
		t.Fatalf("unchanged:\n%s", text)
	}
	putCases(t, dir, []byte(changed))
	if code, _, said := command(t, "report", dir); code == process.Done || !strings.Contains(said, "not built in") {
		t.Errorf("exit %d: %s", code, said)
	}
}
