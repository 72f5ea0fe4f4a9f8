package optimize

import (
	randv2 "math/rand/v2"

	"forkfront/optimize/wire"
)

// source is a generator whose whole state can be written down and read back. It serves
// both generations of the standard library's interface: eaopt takes the older one.
type source struct{ *randv2.PCG }

func newSource(seed, stream uint64) source { return source{randv2.NewPCG(seed, stream)} }

func (s source) Int63() int64    { return int64(s.Uint64() >> 1) }
func (s source) Seed(seed int64) { s.PCG.Seed(uint64(seed), 0) }

func (s source) pack(w *wire.Writer) {
	b, err := s.MarshalBinary()
	if err != nil {
		panic("optimize: a generator that cannot be written: " + err.Error())
	}
	w.Bytes(b)
}

func (s source) unpack(u *wire.Reader) {
	if b := u.Bytes(); !u.Failed() && s.UnmarshalBinary(b) != nil {
		u.Reject()
	}
}

// The streams of one seed, so that one part drawing more does not move another.
const (
	streamEaopt = iota + 1
	streamSearch
	streamGradient
	streamVolume
	streamChoice
	streamSurvival
)

func newRand(seed, stream uint64) *randv2.Rand { return randv2.New(newSource(seed, stream)) }
