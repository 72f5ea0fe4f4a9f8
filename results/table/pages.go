package table

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"slices"

	"github.com/parquet-go/parquet-go/encoding/thrift"
	"github.com/parquet-go/parquet-go/format"
)

// checkPages compares what the footer and the page headers state with the file and with what a Writer writes,
// before the Parquet reader relies on it: that reader takes as much memory as a header says, up to 32 GB, and
// supports codecs and encodings that panic on malformed input.
func checkPages(f io.ReaderAt, size int64, meta *format.FileMetaData, columns []Column) error {
	total := int64(0)
	for g := range meta.RowGroups {
		group := &meta.RowGroups[g]
		if group.NumRows < 0 || group.NumRows > rowsPerGroup {
			return fmt.Errorf("damaged file: row group %d of %d rows; at most %d are written to one", g, group.NumRows, rowsPerGroup)
		}
		if len(group.Columns) != len(columns) {
			return fmt.Errorf("damaged file: row group %d of %d columns; the table has %d", g, len(group.Columns), len(columns))
		}
		total += group.NumRows
		for c := range group.Columns {
			k := chunk{f, size, &group.Columns[c].MetaData, &columns[c], group.NumRows}
			if err := k.check(); err != nil {
				return fmt.Errorf("damaged file: row group %d, column %s: %w", g, columns[c].Name, err)
			}
		}
	}
	if total != meta.NumRows {
		return fmt.Errorf("damaged file: row groups of %d rows; the footer says %d", total, meta.NumRows)
	}
	return nil
}

// chunk is the values of a column in a row group.
type chunk struct {
	file   io.ReaderAt
	size   int64 // of the file, in bytes
	meta   *format.ColumnMetaData
	column *Column
	rows   int64
}

// physical is the Parquet type and the encoding of each kind of column.
var physical = []struct {
	stored   format.Type
	encoding format.Encoding
}{Float: {format.Double, format.ByteStreamSplit}, Int: {format.Int64, format.Plain}, Text: {format.ByteArray, format.RLEDictionary}, Bool: {format.Boolean, format.Plain}}

func (k *chunk) check() error {
	m := k.meta
	switch {
	case m.Type != physical[k.column.Kind].stored:
		return fmt.Errorf("values of type %s", m.Type)
	case m.Codec != format.Zstd:
		return fmt.Errorf("codec %s; only %s is written", m.Codec, format.Zstd)
	case m.NumValues != k.rows:
		return fmt.Errorf("%d values, of a group of %d rows", m.NumValues, k.rows)
	case !slices.Equal([]string(m.PathInSchema), []string{k.column.Name}):
		return fmt.Errorf("a chunk of column %q", m.PathInSchema)
	case m.DataPageOffset < 0 || m.DictionaryPageOffset < 0 || m.TotalCompressedSize < 0 || m.TotalUncompressedSize < 0:
		return errors.New("a negative offset or size")
	}
	return k.checkPages()
}

// checkPages walks the pages of a chunk. They stand one behind the other, the dictionary first.
func (k *chunk) checkPages() error {
	at, left := k.meta.DataPageOffset, k.meta.TotalCompressedSize
	if k.meta.DictionaryPageOffset > 0 {
		at = k.meta.DictionaryPageOffset
	}
	if at > k.size || left > k.size-at {
		return fmt.Errorf("%d bytes from byte %d, of a file of %d", left, at, k.size)
	}
	values, entries := int64(0), int64(-1)
	for left > 0 {
		header, length, err := k.pageHeader(at, left)
		if err == nil && header.Type == format.DictionaryPage {
			if entries >= 0 || k.column.Kind != Text || k.meta.DictionaryPageOffset != at {
				err = errors.New("a dictionary where none belongs")
			}
			entries = int64(header.DictionaryPageHeader.V.NumValues)
		} else if err == nil {
			if values == 0 && k.meta.DataPageOffset != at {
				err = errors.New("the first page is not where the footer says")
			}
			values += int64(header.DataPageHeaderV2.V.NumValues)
		}
		if err != nil {
			return fmt.Errorf("page at byte %d: %w", at, err)
		}
		at, left = at+length, left-length
	}
	if values != k.rows || k.column.Kind == Text && k.rows > 0 && entries < 0 {
		return errors.New("pages and row group do not agree")
	}
	return nil
}

// pageHeader reads the header of the page at a byte and returns it with the length of header and page.
func (k *chunk) pageHeader(at, left int64) (*format.PageHeader, int64, error) {
	section := io.NewSectionReader(k.file, at, left)
	head := bufio.NewReader(section)
	protocol := thrift.CompactProtocol{}
	header := &format.PageHeader{}
	if err := thrift.NewDecoder(protocol.NewReader(head)).Decode(header); err != nil {
		return nil, 0, err
	}
	read, err := section.Seek(0, io.SeekCurrent)
	if err != nil {
		return nil, 0, err
	}
	length := read - int64(head.Buffered()) + int64(header.CompressedPageSize)
	if header.CompressedPageSize < 0 || length > left {
		return nil, 0, fmt.Errorf("%d bytes, of %d that are left", header.CompressedPageSize, left)
	}
	return header, length, k.checkHeader(header)
}

// A page may unpack to freePage bytes, four times what the writer puts into one, and beyond that to mostRatio
// times its length: Zstandard packs more only where next to nothing is in a page, or
// texts of many thousand characters that are nearly alike, which names in a job are too short for.
const (
	freePage  = 1 << 20
	mostRatio = 4000
)

func (k *chunk) checkHeader(h *format.PageHeader) error {
	if h.UncompressedPageSize < 0 || int64(h.UncompressedPageSize) > freePage+mostRatio*int64(h.CompressedPageSize) {
		return fmt.Errorf("%d compressed bytes declare an uncompressed size of %d", h.CompressedPageSize, h.UncompressedPageSize)
	}
	switch {
	case h.Type == format.DictionaryPage && h.DictionaryPageHeader.Valid:
		if d := &h.DictionaryPageHeader.V; d.NumValues < 0 || int64(d.NumValues) > k.rows || d.Encoding != format.Plain {
			return fmt.Errorf("a dictionary of %d values as %s, of a group of %d rows", d.NumValues, d.Encoding, k.rows)
		}
		return nil
	case h.Type == format.DataPageV2 && h.DataPageHeaderV2.Valid:
		return k.checkData(&h.DataPageHeaderV2.V, int64(h.CompressedPageSize), int64(h.UncompressedPageSize))
	}
	return fmt.Errorf("a page of type %s", h.Type)
}

func (k *chunk) checkData(d *format.DataPageHeaderV2, compressed, unpacked int64) error {
	levels := int64(d.DefinitionLevelsByteLength)
	switch {
	case d.NumValues < 1 || int64(d.NumValues) > k.rows:
		return fmt.Errorf("%d values, of a group of %d rows", d.NumValues, k.rows)
	case d.NumRows != d.NumValues || d.NumNulls < 0 || d.NumNulls > d.NumValues:
		return fmt.Errorf("%d values of %d rows, %d of them null", d.NumValues, d.NumRows, d.NumNulls)
	case d.NumNulls > 0 && !k.column.Optional:
		return fmt.Errorf("%d nulls", d.NumNulls)
	case d.Encoding != physical[k.column.Kind].encoding:
		return fmt.Errorf("values as %s", d.Encoding)
	case d.RepetitionLevelsByteLength != 0 || levels < 0 || levels > min(compressed, unpacked) || levels > 0 && !k.column.Optional:
		return fmt.Errorf("levels of %d and %d bytes in a page of %d", d.RepetitionLevelsByteLength, levels, compressed)
	}
	return nil
}
