package table

import (
	"errors"
	"fmt"
	"io"
	"os"

	"github.com/parquet-go/parquet-go"
)

// scanTable calls head once and then each for every row, and compares the checksum at the end. What the
// Parquet reader relies on is checked before it sees it.
func scanTable(path string, head func([]Column, map[string]string), each func(parquet.Row)) (err error) {
	f, err := os.Open(path)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, f.Close()) }()
	if err := checkSeal(f); err != nil {
		return err
	}
	layout, size, err := readLayout(f)
	if err != nil {
		return err
	}
	footer := map[string]string{}
	for _, kv := range layout.KeyValueMetadata {
		footer[kv.Key] = kv.Value
	}
	columns, meta, err := readFooter(footer)
	if err != nil {
		return err
	}
	if err := checkSchema(layout, columns); err != nil {
		return err
	}
	if err := checkPages(f, size, layout, columns); err != nil {
		return err
	}
	pf, err := parquet.OpenFile(f, size, parquet.SkipPageIndex(true), parquet.SkipBloomFilters(true))
	if err != nil {
		return fmt.Errorf("not a whole Parquet file (%d bytes): %w", size, err)
	}
	head(columns, meta)
	want := footer[keyChecksum]
	delete(footer, keyChecksum)
	delete(footer, keySeal)
	sum := newChecksum(footer[keyColumns], footer)
	if err := scanRows(pf, columns, sum, each); err != nil {
		return err
	}
	if sum.String() != want {
		return fmt.Errorf("damaged file: the values do not match their checksum")
	}
	return nil
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
