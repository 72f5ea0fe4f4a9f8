package table

import (
	"errors"
	"fmt"
	"io"
	"os"
	"slices"

	"github.com/parquet-go/parquet-go"
)

// opened is a table whose seal, footer, columns and pages have been checked, and of which no value was read yet.
type opened struct {
	file    *parquet.File
	columns []Column
	meta    map[string]string // the caller's own footer keys
	footer  map[string]string // all of them
}

// openTable checks what the Parquet reader relies on before that sees it.
func openTable(f *os.File) (*opened, error) {
	if err := checkSeal(f); err != nil {
		return nil, err
	}
	layout, size, err := readLayout(f)
	if err != nil {
		return nil, err
	}
	t := &opened{footer: map[string]string{}}
	for _, kv := range layout.KeyValueMetadata {
		t.footer[kv.Key] = kv.Value
	}
	if t.columns, t.meta, err = readFooter(t.footer); err != nil {
		return nil, err
	}
	if err := checkSchema(layout, t.columns); err != nil {
		return nil, err
	}
	if err := checkPages(f, size, layout, t.columns); err != nil {
		return nil, err
	}
	if t.file, err = parquet.OpenFile(f, size, parquet.SkipPageIndex(true), parquet.SkipBloomFilters(true)); err != nil {
		return nil, fmt.Errorf("not a whole Parquet file (%d bytes): %w", size, err)
	}
	return t, nil
}

// scanTable calls head once and then each for every row, and compares the checksum at the end.
func scanTable(path string, head func([]Column, map[string]string), each func(parquet.Row)) (err error) {
	f, err := os.Open(path)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, f.Close()) }()
	t, err := openTable(f)
	if err != nil {
		return err
	}
	head(t.columns, t.meta)
	want := t.footer[keyChecksum]
	delete(t.footer, keyChecksum)
	delete(t.footer, keySeal)
	sum := newChecksum(t.footer[keyColumns], t.footer)
	if err := scanRows(t.file, t.columns, sum, each); err != nil {
		return err
	}
	if sum.String() != want {
		return fmt.Errorf("damaged file: the values do not match their checksum")
	}
	return nil
}

// FirstText checks that a table is, to the last bit, the one that was written, without reading its values, and returns
// the text in a column of its first row: empty where it has no such column or no rows.
func FirstText(path, column string) (text string, err error) {
	f, err := os.Open(path)
	if err != nil {
		return "", err
	}
	defer func() {
		if err = errors.Join(err, f.Close()); err != nil {
			err = fmt.Errorf("%s: %w", path, err)
		}
	}()
	t, err := openTable(f)
	if err != nil {
		return "", err
	}
	at := slices.IndexFunc(t.columns, func(c Column) bool { return c.Name == column && c.Kind == Text })
	if at < 0 || t.file.NumRows() == 0 {
		return "", nil
	}
	rows := t.file.RowGroups()[0].Rows()
	buf := make([]parquet.Row, 1)
	n, err := readRows(rows, buf)
	if errors.Is(err, io.EOF) {
		err = nil
	}
	if err == nil && n == 1 {
		if err = checkRow(t.columns, buf[0]); err == nil {
			text = string(buf[0][at].ByteArray())
		}
	}
	return text, errors.Join(err, rows.Close())
}

// readRows reads rows. The Parquet library panics where the contents of a page are inconsistent, such as an
// index beyond its dictionary, which only decoding them shows; that is an error here. Nothing of ours runs
// under the recover.
func readRows(rows parquet.Rows, buf []parquet.Row) (n int, err error) {
	defer func() {
		if trouble := recover(); trouble != nil {
			err = fmt.Errorf("the Parquet reader gave up: %v", trouble)
		}
	}()
	return rows.ReadRows(buf)
}

func scanRows(pf *parquet.File, columns []Column, sum *checksum, each func(parquet.Row)) error {
	count := int64(0)
	buf := make([]parquet.Row, 256)
	for _, group := range pf.RowGroups() {
		rows := group.Rows()
		for {
			n, err := readRows(rows, buf)
			for _, row := range buf[:n] {
				if err := checkRow(columns, row); err != nil {
					return errors.Join(fmt.Errorf("damaged file: row %d: %w", count, err), rows.Close())
				}
				sum.row(columns, row)
				each(row)
				count++
			}
			if errors.Is(err, io.EOF) {
				break
			}
			if err != nil || n == 0 {
				return errors.Join(fmt.Errorf("damaged file after row %d: %w", count, err), rows.Close())
			}
		}
		if err := rows.Close(); err != nil {
			return err
		}
	}
	if count != pf.NumRows() {
		return fmt.Errorf("damaged file: %d rows, the footer says %d", count, pf.NumRows())
	}
	return nil
}

var parquetKinds = []parquet.Kind{Float: parquet.Double, Int: parquet.Int64, Text: parquet.ByteArray, Bool: parquet.Boolean}

func checkRow(columns []Column, row parquet.Row) error {
	if len(row) != len(columns) {
		return fmt.Errorf("%d values for %d columns", len(row), len(columns))
	}
	for i, v := range row {
		switch {
		case v.Column() != i:
			return fmt.Errorf("a value of column %d instead of column %s", v.Column(), columns[i].Name)
		case v.IsNull() && !columns[i].Optional:
			return fmt.Errorf("NULL in column %s", columns[i].Name)
		case !v.IsNull() && v.Kind() != parquetKinds[columns[i].Kind]:
			return fmt.Errorf("column %s holds %s", columns[i].Name, v.Kind())
		}
	}
	return nil
}
