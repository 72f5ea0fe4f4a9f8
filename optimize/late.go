package optimize

import (
	"forkfront/optimize/wire"
)

// Staged is a Problem some of whose objectives or constraints follow from values that take far longer to find than all
// else. The search finds these late values of few candidates only, learns to predict them from hints, and works with
// predictions; what it returns has its own late values. Its Evaluate finds everything.
type Staged interface {
	Problem
	// Late is how many late values there are, and how many hints Screen leaves.
	Late() (values, hints int)
	// Screen evaluates all but what follows from late values, which it leaves as if it were met, and writes hints: finite numbers, from which the late values
	// are predicted. It is false where a design cannot have late values.
	Screen(dst *Outcome, hints, x []float64) bool
	// Measure finds the late values, finite numbers; it is false where a design has none.
	Measure(values, x []float64) bool
	// Settle completes what Screen began by what follows from late values, found or predicted; nil: the design has none,
	// which is to be infeasible.
	Settle(dst *Outcome, values []float64)
}

// Agreement says how well a late value was predicted for candidates that are reported before it was found of them.
type Agreement struct {
	Count           int
	RankCorrelation float64 // Spearman's; 0 where there are fewer than two
	RMSError        float64
}

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
