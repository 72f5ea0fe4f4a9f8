package table

import (
	"fmt"
	"math"
	"os"
	"slices"
	"strings"

	"github.com/parquet-go/parquet-go"
)

// maxTableBytes bounds the file that Read opens: the tables of a night's search are some tens of
// megabytes, but for candidates.parquet, and what is read stays in memory.
const maxTableBytes = 1 << 30

// Series holds the values of one column. Exactly one of the slices has an entry per row, the one
// of the column's kind; where Nulls is true the entry is the zero value and means nothing. Nulls
// is nil for a column that is not optional.
type Series struct {
	Floats []float64
	Ints   []int64
	Texts  []string
	Bools  []bool
	Nulls  []bool
}

// Table is a table read whole.
type Table struct {
	Columns []Column          // in the order of the file
	Meta    map[string]string // the caller's own footer keys
	Rows    int
	Series  []Series // one per column
}

// StartsWith reports whether the first columns have the names and kinds of others.
func (t *Table) StartsWith(columns []Column) bool {
	return len(t.Columns) >= len(columns) && slices.EqualFunc(t.Columns[:len(columns)], columns, func(a, b Column) bool {
		return a.Name == b.Name && a.Kind == b.Kind
	})
}

// Index returns the position of a column, or -1.
func (t *Table) Index(name string) int {
	for i := range t.Columns {
		if t.Columns[i].Name == name {
			return i
		}
	}
	return -1
}

// Null says whether there is no value at a column and row.
func (t *Table) Null(col, row int) bool {
	nulls := t.Series[col].Nulls
	return nulls != nil && nulls[row]
}

// Full tells whether there is such a column and every row has a number in it.
func (t *Table) Full(col int) bool {
	if col < 0 || t.Columns[col].Kind != Float {
		return false
	}
	for row := range t.Rows {
		if t.Null(col, row) {
			return false
		}
	}
	return true
}

// Number is a value, or NaN for NULL.
func (t *Table) Number(col, row int) float64 {
	if t.Null(col, row) {
		return math.NaN()
	}
	return t.Series[col].Floats[row]
}

// All lists every row.
func (t *Table) All() []int {
	rows := make([]int, t.Rows)
	for row := range rows {
		rows[row] = row
	}
	return rows
}

// Groups are those of the rows that have equal texts in columns, in the order in which each group first comes.
// NULL counts as a text of its own; a column that the table does not have, or that is no text, does not tell rows
// apart.
func (t *Table) Groups(rows []int, by ...string) [][]int {
	var groups [][]int
	at := map[string]int{}
	for _, row := range rows {
		var key strings.Builder
		for _, name := range by {
			if col := t.Index(name); col >= 0 && t.Columns[col].Kind == Text && !t.Null(col, row) {
				fmt.Fprintf(&key, "%q", t.Series[col].Texts[row])
			}
			key.WriteByte(',')
		}
		i, known := at[key.String()]
		if !known {
			i = len(groups)
			at[key.String()] = i
			groups = append(groups, nil)
		}
		groups[i] = append(groups[i], row)
	}
	return groups
}

// Select is a table of some of the rows, in the order given.
func (t *Table) Select(rows []int) *Table {
	part := &Table{Columns: t.Columns, Meta: t.Meta, Rows: len(rows), Series: make([]Series, len(t.Series))}
	for i := range t.Series {
		from := &t.Series[i]
		part.Series[i] = Series{chosen(from.Floats, rows), chosen(from.Ints, rows), chosen(from.Texts, rows), chosen(from.Bools, rows), chosen(from.Nulls, rows)}
	}
	return part
}

// chosen are the entries of some rows; nil where the series has no such values.
func chosen[E any](from []E, rows []int) []E {
	if from == nil {
		return nil
	}
	part := make([]E, len(rows))
	for i, row := range rows {
		part[i] = from[row]
	}
	return part
}

// Read reads a table that a Writer wrote. Values, columns and metadata are compared
// with the checksum in the footer, so that a damaged file is an error and never other numbers.
func Read(path string) (*Table, error) {
	t := &Table{}
	if info, err := os.Stat(path); err == nil && info.Size() > maxTableBytes {
		return nil, fmt.Errorf("read %s: %d bytes; at most %d are read into memory", path, info.Size(), int64(maxTableBytes))
	}
	err := scanTable(path, func(columns []Column, meta map[string]string) {
		t.Columns, t.Meta, t.Series = columns, meta, make([]Series, len(columns))
	}, func(row parquet.Row) {
		for i := range t.Series {
			t.Series[i].add(&t.Columns[i], row[i])
		}
		t.Rows++
	})
	if err != nil {
		return nil, fmt.Errorf("read %s: %w", path, err)
	}
	return t, nil
}

func (s *Series) add(c *Column, v parquet.Value) {
	null := v.IsNull()
	if c.Optional {
		s.Nulls = append(s.Nulls, null)
	}
	switch c.Kind {
	case Float:
		s.Floats = append(s.Floats, v.Double())
	case Int:
		s.Ints = append(s.Ints, v.Int64())
	case Text:
		s.Texts = append(s.Texts, string(v.ByteArray()))
	case Bool:
		s.Bools = append(s.Bools, v.Boolean())
	}
}

// verifyTable reads a file back and compares it with what its writer was given.
func verifyTable(path string, w *Writer) error {
	rows := int64(0)
	err := scanTable(path, func(columns []Column, _ map[string]string) {}, func(parquet.Row) { rows++ })
	if err == nil && rows != w.rows {
		err = fmt.Errorf("%d rows, %d were written", rows, w.rows)
	}
	return err
}
