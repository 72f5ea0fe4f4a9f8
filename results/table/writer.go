package table

import (
	"errors"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"unicode/utf8"

	"github.com/parquet-go/parquet-go"

	"forkfront/results/build"
)

// rowsPerGroup bounds what a writer holds in memory. A row group per 50,000 rows keeps scans fast
// and a table of 100 columns under some 40 MB of buffers.
const rowsPerGroup = 50_000

// SchemaVersion counts changes to the tables that a reader of an older one would trip over.
const SchemaVersion = 1

// Writer writes one Parquet table. The file has a temporary name until Close has read it
// back and found in it what was written; a run that dies leaves nothing under the final name.
//
// A value is checked when it is set, and EndRow returns what was wrong with the row. After a
// refused row the writer takes nothing more, and Close drops the file and returns that error.
type Writer struct {
	path    string
	columns []Column
	meta    map[string]string
	file    *os.File
	out     rowWriter
	sum     *checksum
	row     parquet.Row
	set     []bool
	rows    int64
	err     error
	done    bool
}

// rowWriter is a *parquet.GenericWriter[any], without its Write: after WriteRows it would lose rows. Whoever imports a type
// compiles all instantiated generic code that the type leads to, which of that one takes a second.
type rowWriter interface {
	WriteRows(rows []parquet.Row) (int, error)
	SetKeyValueMetadata(key, value string)
	Close() error
}

// Create starts a table that will be at path. meta goes into the footer as it is; its keys
// must not be those that the table uses itself (forkfront.columns, forkfront.schema_version,
// forkfront.checksum,
// forkfront.file_sha256, PANDAS_ATTRS).
func Create(path string, columns []Column, meta map[string]string) (*Writer, error) {
	if err := checkColumns(columns); err != nil {
		return nil, fmt.Errorf("%s: %w", path, err)
	}
	footer, err := footerOf(columns, meta)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", path, err)
	}
	file, err := os.CreateTemp(filepath.Dir(path), TemporaryPrefix+filepath.Base(path)+"-*")
	if err != nil {
		return nil, fmt.Errorf("start %s: %w", path, err)
	}
	w := &Writer{
		path: path, columns: append([]Column(nil), columns...), meta: footer, file: file,
		sum: newChecksum(footer[keyColumns], footer),
		row: make(parquet.Row, len(columns)), set: make([]bool, len(columns)),
	}
	w.out = parquet.NewGenericWriter[any](file, writerOptions(columns, footer)...)
	return w, nil
}

func writerOptions(columns []Column, footer map[string]string) []parquet.WriterOption {
	b := build.This()
	options := []parquet.WriterOption{
		schemaOf(columns),
		parquet.MaxRowsPerRowGroup(rowsPerGroup),
		parquet.CreatedBy("forkfront", b.Version, b.Revision),
	}
	for key, value := range footer {
		options = append(options, parquet.KeyValueMetadata(key, value))
	}
	return options
}

// Float sets column col of the current row. NaN and infinities are refused: readers disagree on
// what they mean, and NULL says "not known".
func (w *Writer) Float(col int, v float64) {
	if !w.take(col, Float) {
		return
	}
	if math.IsNaN(v) || math.IsInf(v, 0) {
		w.refuse(col, "%v is not a finite number; use NULL for an unknown value", v)
		return
	}
	w.put(col, parquet.DoubleValue(v))
}

// Int sets column col of the current row.
func (w *Writer) Int(col int, v int64) {
	if w.take(col, Int) {
		w.put(col, parquet.Int64Value(v))
	}
}

// Text sets column col of the current row to UTF-8 text.
func (w *Writer) Text(col int, v string) {
	if !w.take(col, Text) {
		return
	}
	if !utf8.ValidString(v) {
		w.refuse(col, "%q is not valid UTF-8", v)
		return
	}
	w.put(col, parquet.ByteArrayValue([]byte(v)))
}

// Bool sets column col of the current row.
func (w *Writer) Bool(col int, v bool) {
	if w.take(col, Bool) {
		w.put(col, parquet.BooleanValue(v))
	}
}

// Null leaves column col of the current row without a value; the column must be optional.
func (w *Writer) Null(col int) {
	if !w.take(col, -1) {
		return
	}
	if !w.columns[col].Optional {
		w.refuse(col, "NULL in a column that always has a value")
		return
	}
	w.row[col] = parquet.NullValue().Level(0, 0, col)
}

// FloatOrNull sets column col of the current row to *v, or to NULL where v is nil.
func (w *Writer) FloatOrNull(col int, v *float64) {
	if v == nil {
		w.Null(col)
		return
	}
	w.Float(col, *v)
}

func (w *Writer) put(col int, v parquet.Value) {
	definition := 0
	if w.columns[col].Optional {
		definition = 1
	}
	w.row[col] = v.Level(0, definition, col)
}

// take marks a column as set, once a row, by a value of its own kind; kind -1 fits all.
func (w *Writer) take(col int, kind Kind) bool {
	switch {
	case w.err != nil:
		return false
	case col < 0 || col >= len(w.columns):
		w.err = fmt.Errorf("%s: row %d: column %d of %d", w.path, w.rows, col, len(w.columns))
		return false
	case w.set[col]:
		w.refuse(col, "set twice")
		return false
	case kind >= 0 && w.columns[col].Kind != kind:
		w.refuse(col, "holds %s, got %s", w.columns[col].Kind, kind)
		return false
	}
	w.set[col] = true
	return true
}

func (w *Writer) refuse(col int, format string, args ...any) {
	w.err = fmt.Errorf("%s: row %d, column %s: %s", w.path, w.rows, w.columns[col].Name, fmt.Sprintf(format, args...))
}

// EndRow ends the current row, in which every column must have been set exactly once. Rows count
// from 0 in errors.
func (w *Writer) EndRow() error {
	if w.done && w.err == nil {
		w.err = fmt.Errorf("%s: row after the end", w.path)
	}
	for col := range w.set {
		if w.err == nil && !w.set[col] {
			w.refuse(col, "not set")
		}
		w.set[col] = false
	}
	if w.err != nil {
		return w.err
	}
	if _, err := w.out.WriteRows([]parquet.Row{w.row}); err != nil {
		w.err = fmt.Errorf("write %s: %w", w.path, err)
		return w.err
	}
	w.sum.row(w.columns, w.row)
	w.rows++
	return nil
}

// Close writes the footer, brings the file to disk, reads it back and compares it with what was
// written, and only then gives it its name. On any error there is no new file and an older one
// under the name stays as it was.
func (w *Writer) Close() error {
	if w.done {
		return w.err
	}
	for col := range w.set {
		if w.err == nil && w.set[col] {
			w.refuse(col, "set in a row that was never ended")
		}
	}
	if w.err == nil {
		w.err = w.finish()
	}
	err := w.err
	w.Abort()
	return err
}

func (w *Writer) finish() error {
	w.out.SetKeyValueMetadata(keyChecksum, w.sum.String())
	w.out.SetKeyValueMetadata(keySeal, noSeal)
	err := w.out.Close()
	if err == nil {
		err = errors.Join(seal(w.file), w.file.Sync())
	}
	if err = errors.Join(err, w.file.Close()); err != nil {
		return fmt.Errorf("write %s: %w", w.path, err)
	}
	if err := verifyTable(w.file.Name(), w); err != nil {
		return fmt.Errorf("%s was not kept, it reads back differently: %w", w.path, err)
	}
	if err := os.Chmod(w.file.Name(), 0o644); err != nil {
		return fmt.Errorf("write %s: %w", w.path, err)
	}
	if err := os.Rename(w.file.Name(), w.path); err != nil {
		return fmt.Errorf("name the finished %s: %w", w.path, err)
	}
	w.done = true
	return syncFolder(filepath.Dir(w.path))
}

// Abort drops the table; nothing is left of it. After Close it does nothing.
func (w *Writer) Abort() {
	if w.done {
		return
	}
	w.done = true
	_ = w.file.Close() // closed already where Close got that far
	_ = os.Remove(w.file.Name())
}

// syncFolder brings a rename to disk.
func syncFolder(dir string) error {
	d, err := os.Open(dir)
	if err != nil {
		return err
	}
	return errors.Join(d.Sync(), d.Close())
}
