package population

import "forkfront/optimize/wire"

// LateValues is what a member of a staged problem has beyond its outcome.
type LateValues struct {
	Hints, Values []float64
	Able          bool // it can have late values
	Sound         bool // and meets all that does not follow from them
	Measured      bool // the values are its own, or it has been found to have none
	Void          bool // it has none, found or predicted
}

func (d *LateValues) pack(w *wire.Writer) {
	w.Floats(d.Hints)
	w.Floats(d.Values)
	for _, b := range []bool{d.Able, d.Sound, d.Measured, d.Void} {
		w.Bool(b)
	}
}

func (d *LateValues) unpack(u *wire.Reader) {
	u.Floats(d.Hints, false)
	u.Floats(d.Values, false)
	for _, b := range []*bool{&d.Able, &d.Sound, &d.Measured, &d.Void} {
		*b = u.Bool()
	}
}
