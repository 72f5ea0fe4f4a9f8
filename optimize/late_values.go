package optimize

import "forkfront/optimize/wire"

// late is what a member of a staged problem has beyond its outcome.
type late struct {
	hints, values []float64
	able          bool // it can have late values
	sound         bool // and meets all that does not follow from them
	measured      bool // the values are its own, or it has been found to have none
	void          bool // it has none, found or predicted
}

func (d *late) pack(w *wire.Writer) {
	w.Floats(d.hints)
	w.Floats(d.values)
	for _, b := range []bool{d.able, d.sound, d.measured, d.void} {
		w.Bool(b)
	}
}

func (d *late) unpack(u *wire.Reader) {
	u.Floats(d.hints, false)
	u.Floats(d.values, false)
	for _, b := range []*bool{&d.able, &d.sound, &d.measured, &d.void} {
		*b = u.Bool()
	}
}
