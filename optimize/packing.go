package optimize

import (
	"encoding/binary"
	"math"
)

// packer writes numbers one after the other, eight bytes each, lowest byte first.
type packer struct{ b []byte }

func (p *packer) word(v uint64)   { p.b = binary.LittleEndian.AppendUint64(p.b, v) }
func (p *packer) int(v int)       { p.word(uint64(int64(v))) }
func (p *packer) float(v float64) { p.word(math.Float64bits(v)) }

func (p *packer) bool(v bool) {
	if v {
		p.int(1)
		return
	}
	p.int(0)
}

// floats writes the values alone; the reader knows how many.
func (p *packer) floats(v []float64) {
	for _, f := range v {
		p.float(f)
	}
}

func (p *packer) bytes(v []byte) {
	p.int(len(v))
	p.b = append(p.b, v...)
}

func (p *packer) text(s string) { p.bytes([]byte(s)) }

// unpacker reads what packer wrote. After the first thing that cannot be, every read gives
// zero and bad stays true, so that callers need to ask only where they depend on it.
type unpacker struct {
	b   []byte
	bad bool
}

func (u *unpacker) take(n int) []byte {
	if u.bad || n < 0 || n > len(u.b) {
		u.bad = true
		return nil
	}
	part := u.b[:n]
	u.b = u.b[n:]
	return part
}

func (u *unpacker) word() uint64 {
	b := u.take(8)
	if b == nil {
		return 0
	}
	return binary.LittleEndian.Uint64(b)
}

func (u *unpacker) float() float64 { return math.Float64frombits(u.word()) }

// int reads a number that has to lie within the limits.
func (u *unpacker) int(low, high int) int {
	v := int(int64(u.word()))
	if v < low || v > high {
		u.bad = true
	}
	if u.bad {
		return 0
	}
	return v
}

// count reads how many items follow, each at least so many bytes long: a wrong number must
// not make anybody reserve memory for what is not there.
func (u *unpacker) count(bytesEach int) int { return u.int(0, len(u.b)/max(bytesEach, 1)) }

func (u *unpacker) bool() bool { return u.int(0, 1) == 1 }

// finite reads numbers that have to be numbers; infinities pass where they are allowed.
func (u *unpacker) floats(dst []float64, infinite bool) {
	for i := range dst {
		v := u.float()
		if math.IsNaN(v) || !infinite && math.IsInf(v, 0) {
			u.bad = true
		}
		dst[i] = v
	}
}

func (u *unpacker) bytes() []byte { return u.take(u.count(1)) }
