package table

import (
	"bufio"
	"errors"
	"fmt"
	"io"

	"github.com/parquet-go/parquet-go/encoding/thrift"
	"github.com/parquet-go/parquet-go/format"
)

// checkPages holds the lengths and counts that page headers state against those of the file, before the Parquet
// reader does: it asks for as much memory as a header says, up to 2 GB.
func checkPages(f io.ReaderAt, meta *format.FileMetaData) error {
	for g := range meta.RowGroups {
		group := &meta.RowGroups[g]
		if group.NumRows < 0 || group.NumRows > rowsPerGroup {
			return fmt.Errorf("damaged file: row group %d of %d rows; at most %d are written to one", g, group.NumRows, rowsPerGroup)
		}
		for c := range group.Columns {
			if err := checkChunk(f, &group.Columns[c].MetaData, group.NumRows); err != nil {
				return fmt.Errorf("damaged file: row group %d, column %d: %w", g, c, err)
			}
		}
	}
	return nil
}

// A page may unpack to freePage bytes, four times what the writer puts into one, and beyond that to mostRatio
// times its length: Zstandard packs more only where next to nothing is in a page, or
// texts of many thousand characters that are nearly alike, which names in a job are too short for.
const (
	freePage  = 1 << 20
	mostRatio = 4000
)

// checkChunk walks the pages of a column in a row group. They stand one behind the other, the dictionary first.
func checkChunk(f io.ReaderAt, chunk *format.ColumnMetaData, rows int64) error {
	at, left := chunk.DataPageOffset, chunk.TotalCompressedSize
	if chunk.DictionaryPageOffset > 0 {
		at = chunk.DictionaryPageOffset
	}
	protocol := thrift.CompactProtocol{}
	values := int64(0)
	for left > 0 {
		section := io.NewSectionReader(f, at, left)
		head := bufio.NewReader(section)
		var header format.PageHeader
		if err := thrift.NewDecoder(protocol.NewReader(head)).Decode(&header); err != nil {
			return fmt.Errorf("page header at byte %d: %w", at, err)
		}
		read, err := section.Seek(0, io.SeekCurrent)
		if err != nil {
			return err
		}
		length := read - int64(head.Buffered()) + int64(header.CompressedPageSize)
		switch {
		case header.CompressedPageSize < 0 || length > left:
			return fmt.Errorf("page at byte %d: %d bytes, of %d that are left", at, header.CompressedPageSize, left)
		case header.UncompressedPageSize < 0 || int64(header.UncompressedPageSize) > freePage+mostRatio*int64(header.CompressedPageSize):
			return fmt.Errorf("page at byte %d: %d bytes that are said to unpack to %d", at, header.CompressedPageSize, header.UncompressedPageSize)
		}
		switch n := valuesOf(&header); {
		case n < 0 || n > rows:
			return fmt.Errorf("page at byte %d: %d values, of a group of %d rows", at, n, rows)
		case header.Type != format.DictionaryPage:
			values += n
		}
		at, left = at+length, left-length
	}
	if left < 0 || values != rows {
		return errors.New("pages and row group do not agree")
	}
	return nil
}

// valuesOf is how many values a page states.
func valuesOf(h *format.PageHeader) int64 {
	switch {
	case h.DataPageHeader.Valid:
		return int64(h.DataPageHeader.V.NumValues)
	case h.DataPageHeaderV2.Valid:
		return int64(h.DataPageHeaderV2.V.NumValues)
	case h.DictionaryPageHeader.Valid:
		return int64(h.DictionaryPageHeader.V.NumValues)
	}
	return 0
}
