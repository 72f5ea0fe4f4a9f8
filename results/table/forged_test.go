package table

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/parquet-go/parquet-go/format"
)

// forged writes a damaged file and puts the right seal into it, where there is still a place for one.
func forged(t *testing.T, path string, data []byte) {
	t.Helper()
	if err := os.WriteFile(path, data, 0o600); err != nil {
		t.Fatal(err)
	}
	f, err := os.OpenFile(path, os.O_RDWR, 0)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if at, err := findSeal(f); err == nil {
		if _, err := f.WriteAt([]byte(noSeal), at); err != nil {
			t.Fatal(err)
		}
		if err := seal(f); err != nil {
			t.Fatal(err)
		}
	}
}

// A wrong bit under a right seal is an error or makes no difference: never a panic, never other values.
func TestForgedFilesAreRefused(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "t.parquet")
	writeRows(t, path, 40)
	whole, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	refused := 0
	const step = 5 // no multiple of 8, so that all bits of a byte have their turn
	for i := 0; i < len(whole); i += step {
		data := bytes.Clone(whole)
		data[i] ^= 1 << (i % 8)
		bad := filepath.Join(dir, "bad")
		forged(t, bad, data)
		got, err := Read(bad)
		if err != nil {
			refused++
		} else if err := checkRows(got, 40); err != nil {
			t.Errorf("byte %d: %v", i, err)
		}
	}
	if refused < len(whole)/step/2 {
		t.Errorf("%d of %d changes refused", refused, len(whole)/step)
	}
}

// One wrong bit makes Zstandard LZ4, whose decoder in the Parquet library asks for 32 GB; other layouts
// are none that a Writer makes.
func TestOtherLayoutsAreRefused(t *testing.T) {
	path := filepath.Join(t.TempDir(), "t.parquet")
	writeRows(t, path, 40)
	f, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	for says, change := range map[string]func(*format.ColumnMetaData){
		"codec LZ4_RAW":      func(m *format.ColumnMetaData) { m.Codec = format.Lz4Raw },
		"values of type":     func(m *format.ColumnMetaData) { m.Type = format.Int96 },
		"41 values":          func(m *format.ColumnMetaData) { m.NumValues = 41 },
		"a chunk of column":  func(m *format.ColumnMetaData) { m.PathInSchema[0] = "other" },
		"negative":           func(m *format.ColumnMetaData) { m.DataPageOffset = -1 },
		"of a file of":       func(m *format.ColumnMetaData) { m.TotalCompressedSize = 1 << 40 },
		"pages and row":      func(m *format.ColumnMetaData) { m.TotalCompressedSize = 0 },
		"a dictionary where": func(m *format.ColumnMetaData) { m.DictionaryPageOffset = 0; m.DataPageOffset = 4 },
	} {
		layout, size, err := readLayout(f)
		if err != nil {
			t.Fatal(err)
		}
		if err := checkPages(f, size, layout, testColumns); err != nil {
			t.Fatalf("an untouched file: %v", err)
		}
		column := 0
		if strings.HasPrefix(says, "a dictionary") {
			column = 2
			at := layout.RowGroups[0].Columns[column].MetaData.DictionaryPageOffset
			m := &layout.RowGroups[0].Columns[column].MetaData
			change(m)
			m.DataPageOffset = at
		} else {
			change(&layout.RowGroups[0].Columns[column].MetaData)
		}
		if err := checkPages(f, size, layout, testColumns); err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%q: %v", says, err)
		}
	}
}
