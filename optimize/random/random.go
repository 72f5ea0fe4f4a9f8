// Package random draws the random numbers of a search: generators that can be written down and read back, and a stream for each part of
// the search that draws.
package random

import (
	"math/rand/v2"

	"forkfront/optimize/wire"
)

// The streams of one seed, so that one part drawing more does not move another.
const (
	Shell     = iota + 1 // of the library that runs generations
	Variation            // of offspring
	Gradient             // of where descents start
	Volume               // samples of the archive's volume
	Choice               // samples by which the front that is reported is chosen
	Survival             // samples by which survivors are chosen
)

// Source is a generator whose whole state can be written down and read back. It serves
// both generations of the standard library's interface: eaopt takes the older one.
type Source struct{ *rand.PCG }

// NewSource is the generator of a stream of a seed, at its beginning.
func NewSource(seed, stream uint64) Source { return Source{rand.NewPCG(seed, stream)} }

// Int63 is the next number, at least 0.
func (s Source) Int63() int64 { return int64(s.Uint64() >> 1) }

// Seed restarts the generator from a seed.
func (s Source) Seed(seed int64) { s.PCG.Seed(uint64(seed), 0) }

// Pack writes the state of the generator.
func (s Source) Pack(w *wire.Writer) {
	b, err := s.MarshalBinary()
	if err != nil {
		panic("optimize: a generator that cannot be written: " + err.Error())
	}
	w.Bytes(b)
}

// Unpack goes on from a state that Pack wrote.
func (s Source) Unpack(u *wire.Reader) {
	if b := u.Bytes(); !u.Failed() && s.UnmarshalBinary(b) != nil {
		u.Reject()
	}
}

// New draws from a stream of a seed; its state is not written down.
func New(seed, stream uint64) *rand.Rand { return rand.New(NewSource(seed, stream)) }
