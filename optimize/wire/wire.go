// Package wire turns numbers and text into bytes and back, so that what is read back has been checked. It
// does not know what the values mean.
package wire

import (
	"encoding/binary"
	"math"
)

// Writer appends numbers one after the other, eight bytes each, lowest byte first.
type Writer struct{ b []byte }

// Encoded returns all bytes written so far.
func (w *Writer) Encoded() []byte { return w.b }

// Raw appends bytes as they are; the reader knows how many.
func (w *Writer) Raw(v []byte) { w.b = append(w.b, v...) }

// Word appends 64 bits.
func (w *Writer) Word(v uint64) { w.b = binary.LittleEndian.AppendUint64(w.b, v) }

// Int appends an integer.
func (w *Writer) Int(v int) { w.Word(uint64(int64(v))) }

// Float appends a number, NaN and infinities included.
func (w *Writer) Float(v float64) { w.Word(math.Float64bits(v)) }

// Bool appends 0 or 1.
func (w *Writer) Bool(v bool) {
	if v {
		w.Int(1)
		return
	}
	w.Int(0)
}

// Floats appends only the values; the reader knows how many.
func (w *Writer) Floats(v []float64) {
	for _, f := range v {
		w.Float(f)
	}
}

// Bytes appends the length and the bytes.
func (w *Writer) Bytes(v []byte) {
	w.Int(len(v))
	w.Raw(v)
}

// Text appends the length and the bytes of a text.
func (w *Writer) Text(s string) { w.Bytes([]byte(s)) }

// Reader reads what a Writer wrote. After the first value that cannot be read or is refused, every read
// gives zero and Failed stays true, so that callers need to ask only where they depend on it.
type Reader struct {
	b      []byte
	failed bool
}

// NewReader returns a reader of some bytes.
func NewReader(b []byte) *Reader { return &Reader{b: b} }

// Failed reports whether a value could not be read or was refused.
func (r *Reader) Failed() bool { return r.failed }

// Reject says that a value read makes no sense.
func (r *Reader) Reject() { r.failed = true }

// Remaining is how many bytes have not been read.
func (r *Reader) Remaining() int { return len(r.b) }

// Raw reads n bytes; nil when there are fewer.
func (r *Reader) Raw(n int) []byte {
	if r.failed || n < 0 || n > len(r.b) {
		r.failed = true
		return nil
	}
	part := r.b[:n]
	r.b = r.b[n:]
	return part
}

// Word reads 64 bits.
func (r *Reader) Word() uint64 {
	b := r.Raw(8)
	if b == nil {
		return 0
	}
	return binary.LittleEndian.Uint64(b)
}

// Float reads any number, NaN and infinities included.
func (r *Reader) Float() float64 { return math.Float64frombits(r.Word()) }

// Finite reads a number that is neither NaN nor infinite.
func (r *Reader) Finite() float64 {
	v := []float64{0}
	r.Floats(v, false)
	return v[0]
}

// Int reads an integer that has to lie within the limits.
func (r *Reader) Int(low, high int) int {
	v := int(int64(r.Word()))
	if v < low || v > high {
		r.failed = true
	}
	if r.failed {
		return 0
	}
	return v
}

// Count reads how many items follow, each at least so many bytes long: a wrong number must
// not make anybody reserve memory for what is not there.
func (r *Reader) Count(bytesEach int) int { return r.Int(0, len(r.b)/max(bytesEach, 1)) }

// Bool reads 0 or 1.
func (r *Reader) Bool() bool { return r.Int(0, 1) == 1 }

// Floats reads as many numbers as dst has places. NaN is refused, and infinities are where they are not
// allowed.
func (r *Reader) Floats(dst []float64, infinite bool) {
	for i := range dst {
		v := r.Float()
		if math.IsNaN(v) || !infinite && math.IsInf(v, 0) {
			r.failed = true
		}
		dst[i] = v
	}
}

// Bytes reads a length and so many bytes.
func (r *Reader) Bytes() []byte { return r.Raw(r.Count(1)) }
