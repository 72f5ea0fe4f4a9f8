package table

import (
	"bytes"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

var testColumns = []Column{
	{Name: "zeta_mm", Unit: "mm", Doc: "first though last by name", Sense: "low", Kind: Float, Optional: true},
	{Name: "candidate", Doc: "number", Kind: Int},
	{Name: "mechanism", Doc: "name", Kind: Text, Optional: true},
	{Name: "feasible", Doc: "whether", Kind: Bool, Optional: true},
	{Name: "alpha_deg", Unit: "deg", Kind: Float},
}

// writeRows writes rows whose values follow from the row number by eye.
func writeRows(t *testing.T, path string, rows int) {
	t.Helper()
	w, err := Create(path, testColumns, map[string]string{"forkfront.run": "abc", "other": "x"})
	if err != nil {
		t.Fatal(err)
	}
	for r := range rows {
		setRow(w, r)
		if err := w.EndRow(); err != nil {
			t.Fatal(err)
		}
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
}

func setRow(w *Writer, r int) {
	if r%3 == 0 {
		w.Null(0)
	} else {
		w.Float(0, float64(r)/8)
	}
	w.Int(1, int64(-r))
	if r%4 == 1 {
		w.Null(2)
	} else {
		w.Text(2, fmt.Sprintf("girder %d", r%5))
	}
	if r%5 == 2 {
		w.Null(3)
	} else {
		w.Bool(3, r%2 == 0)
	}
	w.Float(4, -float64(r))
}

// checkRows compares a table with what setRow wrote.
func checkRows(table *Table, rows int) error {
	if table.Rows != rows || fmt.Sprint(table.Columns) != fmt.Sprint(testColumns) {
		return fmt.Errorf("%d rows of %v", table.Rows, table.Columns)
	}
	if len(table.Meta) != 2 || table.Meta["forkfront.run"] != "abc" || table.Meta["other"] != "x" {
		return fmt.Errorf("metadata %v", table.Meta)
	}
	s := table.Series
	for r := range rows {
		switch {
		case table.Null(0, r) != (r%3 == 0) || !table.Null(0, r) && s[0].Floats[r] != float64(r)/8:
			return fmt.Errorf("row %d: zeta_mm %v", r, s[0].Floats[r])
		case s[1].Ints[r] != int64(-r):
			return fmt.Errorf("row %d: candidate %v", r, s[1].Ints[r])
		case table.Null(2, r) != (r%4 == 1) || !table.Null(2, r) && s[2].Texts[r] != fmt.Sprintf("girder %d", r%5):
			return fmt.Errorf("row %d: mechanism %q", r, s[2].Texts[r])
		case table.Null(3, r) != (r%5 == 2) || !table.Null(3, r) && s[3].Bools[r] != (r%2 == 0):
			return fmt.Errorf("row %d: feasible %v", r, s[3].Bools[r])
		case table.Null(4, r) || s[4].Floats[r] != -float64(r):
			return fmt.Errorf("row %d: alpha_deg %v", r, s[4].Floats[r])
		}
	}
	return nil
}

func TestTableRoundTrip(t *testing.T) {
	// 60,001 rows: one more row group than one, and a number that no batch size divides.
	for _, rows := range []int{0, 1, 1000, 60_001} {
		path := filepath.Join(t.TempDir(), "t.parquet")
		writeRows(t, path, rows)
		table, err := Read(path)
		if err != nil {
			t.Fatalf("%d rows: %v", rows, err)
		}
		if err := checkRows(table, rows); err != nil {
			t.Errorf("%d rows: %v", rows, err)
		}
	}
}

func TestSameRowsSameBytes(t *testing.T) {
	a, b := filepath.Join(t.TempDir(), "a"), filepath.Join(t.TempDir(), "b")
	writeRows(t, a, 3000)
	writeRows(t, b, 3000)
	first, _ := os.ReadFile(a)
	second, err := os.ReadFile(b)
	if err != nil || !bytes.Equal(first, second) {
		t.Errorf("the same rows gave %d and %d different bytes (%v)", len(first), len(second), err)
	}
}

func TestRowsRefused(t *testing.T) {
	whole := func(w *Writer) { setRow(w, 1) }
	for name, c := range map[string]struct {
		set  func(*Writer)
		says string
	}{
		"nan":               {func(w *Writer) { w.Float(4, math.NaN()) }, "row 1, column alpha_deg: NaN"},
		"inf":               {func(w *Writer) { w.Float(4, math.Inf(1)) }, "column alpha_deg: +Inf"},
		"minus inf":         {func(w *Writer) { w.Float(0, math.Inf(-1)) }, "column zeta_mm: -Inf"},
		"column missing":    {func(w *Writer) { w.Float(0, 1) }, "column candidate: not set"},
		"nothing set":       {func(*Writer) {}, "column zeta_mm: not set"},
		"set twice":         {func(w *Writer) { whole(w); w.Float(4, 1) }, "column alpha_deg: set twice"},
		"null and value":    {func(w *Writer) { w.Null(0); w.Float(0, 1) }, "column zeta_mm: set twice"},
		"int into float":    {func(w *Writer) { w.Int(0, 5) }, "column zeta_mm: holds float, got int"},
		"float into int":    {func(w *Writer) { w.Float(1, 5) }, "column candidate: holds int, got float"},
		"text into bool":    {func(w *Writer) { w.Text(3, "true") }, "column feasible: holds bool, got text"},
		"null not optional": {func(w *Writer) { w.Null(1) }, "column candidate: NULL"},
		"no such column":    {func(w *Writer) { w.Float(5, 1) }, "column 5 of 5"},
		"negative column":   {func(w *Writer) { w.Null(-1) }, "column -1 of 5"},
		"bytes not text":    {func(w *Writer) { w.Text(2, "\xff") }, "not valid UTF-8"},
	} {
		t.Run(name, func(t *testing.T) {
			dir := t.TempDir()
			w, err := Create(filepath.Join(dir, "t.parquet"), testColumns, nil)
			if err != nil {
				t.Fatal(err)
			}
			setRow(w, 0)
			if err := w.EndRow(); err != nil {
				t.Fatal(err)
			}
			c.set(w)
			if err := w.EndRow(); err == nil || !strings.Contains(err.Error(), c.says) {
				t.Errorf("got %v, want %q", err, c.says)
			}
			if err := w.Close(); err == nil {
				t.Error("Close of a table with a refused row gave no error")
			}
			if left, _ := os.ReadDir(dir); len(left) != 0 {
				t.Errorf("left behind: %v", left)
			}
		})
	}
}

func TestUnfinishedTableHasNoName(t *testing.T) {
	dir := t.TempDir()
	w, err := Create(filepath.Join(dir, "t.parquet"), testColumns, nil)
	if err != nil {
		t.Fatal(err)
	}
	setRow(w, 0)
	if err := w.EndRow(); err != nil {
		t.Fatal(err)
	}
	if _, err := os.Stat(filepath.Join(dir, "t.parquet")); err == nil {
		t.Error("the file has its name before it is whole")
	}
	setRow(w, 1) // never ended
	if err := w.Close(); err == nil || !strings.Contains(err.Error(), "never ended") {
		t.Errorf("half a row: %v", err)
	}
}

// TestDamagedFile flips every byte of a file, and cuts it all over: always an error.
func TestDamagedFile(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "t.parquet")
	writeRows(t, path, 40)
	whole, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	bad := filepath.Join(dir, "bad")
	try := func(what string, data []byte) {
		if err := os.WriteFile(bad, data, 0o600); err != nil {
			t.Fatal(err)
		}
		if _, err := Read(bad); err == nil {
			t.Errorf("%s: read without an error", what)
		}
	}
	for i := range whole {
		data := bytes.Clone(whole)
		data[i] ^= 1 << (i % 8)
		try(fmt.Sprintf("byte %d", i), data)
	}
	for i := 0; i < len(whole); i += 97 {
		try(fmt.Sprintf("cut at %d", i), whole[:i])
	}
	try("a byte behind the end", append(bytes.Clone(whole), 0))
}

// TestChecksumAfterTheSeal shows the second check a file with a good seal and values other than
// those whose checksum it carries.
func TestChecksumAfterTheSeal(t *testing.T) {
	w, err := Create(filepath.Join(t.TempDir(), "t"), testColumns, nil)
	if err != nil {
		t.Fatal(err)
	}
	setRow(w, 1)
	if err := w.EndRow(); err != nil {
		t.Fatal(err)
	}
	w.sum.text("one more value")
	w.sum.flush()
	if err := w.Close(); err == nil || !strings.Contains(err.Error(), "values do not match") {
		t.Errorf("got %v", err)
	}
}

func TestColumnsRefused(t *testing.T) {
	for says, columns := range map[string][]Column{
		"at least one":       {},
		"both named":         {{Name: "a"}, {Name: "a"}},
		`name "Trail_mm"`:    {{Name: "Trail_mm", Unit: "mm"}},
		`name ""`:            {{}},
		"unit is \"mm\"":     {{Name: "trail", Unit: "mm"}},
		"unit is \"\"":       {{Name: "trail_mm"}},
		"ends as one in \"N": {{Name: "rate_n_per_mm", Unit: "mm"}},
		"unknown unit":       {{Name: "trail_furlong", Unit: "furlong"}},
		"has no unit":        {{Name: "pair_mm", Unit: "mm", Kind: Text}},
		"sense":              {{Name: "a", Sense: "up"}},
		"unknown kind":       {{Name: "a", Kind: 9}},
	} {
		if _, err := Create(filepath.Join(t.TempDir(), "t"), columns, nil); err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("got %v, want %q", err, says)
		}
	}
	if _, err := Create(filepath.Join(t.TempDir(), "t"), testColumns, map[string]string{keyPandas: ""}); err == nil {
		t.Error("the table's own footer key was taken from the caller")
	}
}

// Names as long as a job may have them, nearly alike, pack far and are read back all the same.
func TestLongTextsRoundTrip(t *testing.T) {
	path := filepath.Join(t.TempDir(), "long.parquet")
	long := strings.Repeat("a long name/", 90)
	const rows = rowsPerGroup + 1000
	err := Write(path, []Column{{Name: "candidate", Kind: Text}, {Name: "none_mm", Unit: "mm", Kind: Float, Optional: true}}, nil, rows, func(w *Writer, row int) {
		w.Text(0, long+strconv.Itoa(row))
		w.Null(1)
	})
	if err != nil {
		t.Fatal(err)
	}
	table, err := Read(path)
	if err != nil {
		t.Fatal(err)
	}
	if table.Rows != rows || table.Series[0].Texts[rows-1] != long+strconv.Itoa(rows-1) {
		t.Errorf("%d rows, the last one %.40s", table.Rows, table.Series[0].Texts[rows-1])
	}
}

func TestUnknownAimIsRefused(t *testing.T) {
	columns := []Column{{Name: "objective_mass_g", Unit: "g", Aim: &Aim{Wants: "less"}}}
	if err := checkColumns(columns); err == nil || !strings.Contains(err.Error(), `aim "less": allowed are min, max and band`) {
		t.Error(err)
	}
}
