package table

import (
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"hash"
	"maps"
	"math"
	"slices"

	"github.com/parquet-go/parquet-go"
)

// checksum is a SHA-256 over what a table says: the column dictionary, the caller's metadata in
// order of keys, and every value row by row. Page checksums of Parquet cover neither the footer
// nor a value put in the wrong row; this covers both.
type checksum struct {
	hash hash.Hash
	buf  []byte
}

func newChecksum(columnsJSON string, meta map[string]string) *checksum {
	s := &checksum{hash: sha256.New()}
	s.text(columnsJSON)
	for _, key := range slices.Sorted(maps.Keys(meta)) {
		s.text(key)
		s.text(meta[key])
	}
	s.flush()
	return s
}

// text adds the length before the bytes, so that no two lists of texts look alike.
func (s *checksum) text(t string) {
	s.buf = binary.LittleEndian.AppendUint64(s.buf, uint64(len(t)))
	s.buf = append(s.buf, t...)
}

func (s *checksum) row(columns []Column, row parquet.Row) {
	for i := range columns {
		s.value(columns[i].Kind, row[i])
	}
	s.flush()
}

func (s *checksum) value(kind Kind, v parquet.Value) {
	if v.IsNull() {
		s.buf = append(s.buf, 0)
		return
	}
	s.buf = append(s.buf, 1)
	switch kind {
	case Float:
		s.buf = binary.LittleEndian.AppendUint64(s.buf, math.Float64bits(v.Double()))
	case Int:
		s.buf = binary.LittleEndian.AppendUint64(s.buf, uint64(v.Int64()))
	case Text:
		s.text(string(v.ByteArray()))
	case Bool:
		if v.Boolean() {
			s.buf = append(s.buf, 1)
		} else {
			s.buf = append(s.buf, 0)
		}
	}
}

func (s *checksum) flush() {
	s.hash.Write(s.buf)
	s.buf = s.buf[:0]
}

func (s *checksum) String() string { return hex.EncodeToString(s.hash.Sum(nil)) }
