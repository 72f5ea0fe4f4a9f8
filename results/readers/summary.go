package readers

import (
	"encoding/binary"
	"fmt"
	"math"
)

// Summary is what a reader found in a table.
type Summary struct {
	Rows    int               `json:"rows"`
	Columns map[string]Column `json:"columns"`
}

// Column is what a reader found in a column: NULLs, and the 64-bit FNV-1a hash over all values, a byte
// 0 for NULL, a byte 1 and the value else: numbers as 8 bytes, least first, text as UTF-8.
type Column struct {
	Nulls int    `json:"nulls"`
	Sum   string `json:"sum"`
}

// tally builds a summary value by value, row by row.
type tally struct {
	names []string
	nulls []int
	sums  []uint64
	rows  int
}

func newTally(names []string) *tally {
	t := &tally{names: names, nulls: make([]int, len(names)), sums: make([]uint64, len(names))}
	for i := range t.sums {
		t.sums[i] = 0xcbf29ce484222325 // FNV-1a offset basis
	}
	return t
}

func (t *tally) add(col int, v any) error {
	var b []byte
	switch v := v.(type) {
	case nil:
		t.nulls[col]++
		b = []byte{0}
	case float64:
		b = binary.LittleEndian.AppendUint64([]byte{1}, math.Float64bits(v))
	case int64:
		b = binary.LittleEndian.AppendUint64([]byte{1}, uint64(v))
	case string:
		b = append([]byte{1}, v...)
	case bool:
		b = []byte{1, 0}
		if v {
			b[1] = 1
		}
	default:
		return fmt.Errorf("column %s: a %T", t.names[col], v)
	}
	for _, x := range b {
		t.sums[col] = (t.sums[col] ^ uint64(x)) * 0x100000001b3 // FNV-1a prime
	}
	return nil
}

func (t *tally) summary() *Summary {
	s := &Summary{Rows: t.rows, Columns: map[string]Column{}}
	for i, name := range t.names {
		s.Columns[name] = Column{t.nulls[i], fmt.Sprintf("%016x", t.sums[i])}
	}
	return s
}
