package report

import (
	"encoding/binary"
	"math"
	"strings"
	"testing"
)

// A track read back by the rule that its comment states is off by half a step at most.
func TestTracksReadBack(t *testing.T) {
	values := make([]float64, 33)
	for i := range values {
		values[i] = -150 + 40*math.Sin(float64(i)/9) + float64(i)*float64(i)
	}
	b := appendTrack(nil, values, placeMM)
	n, used := binary.Uvarint(b)
	b = b[used:]
	var last, before int64
	for i := range int(n) {
		d, used := binary.Varint(b)
		b = b[used:]
		v := d + 2*last - before
		before, last = last, v
		if off := math.Abs(float64(v)*placeMM - values[i]); off > placeMM/2+1e-9 {
			t.Errorf("value %d is off by %g", i, off)
		}
	}
	if int(n) != len(values) || len(b) != 0 {
		t.Errorf("%d values, %d bytes left", n, len(b))
	}
}

// Growth by hand: of a last hypervolume of 0.5, 0.49 was there at 80 % of the evaluations, so the
// last fifth added 2 %, which is not settled; 0.498 makes it 0.4 %, which is; nearly all of it, in digits that people read.
func TestConvergenceIsJudged(t *testing.T) {
	for _, x := range []struct {
		before  float64
		settled bool
		says    string
	}{{0.49, false, "still growing: the last fifth of the evaluations added 2 %"}, {0.498, true, "settled: the last fifth of the evaluations added 0.4 %"}, {0.0005, false, "still growing: the last fifth of the evaluations added 100 % of"}} {
		var c caseTrust
		c.converged([]step{{100, 0.1}, {800, x.before}, {900, 0.499}, {1000, 0.5}})
		if c.Settled != x.settled || !strings.HasPrefix(c.Verdict, x.says) {
			t.Errorf("%v: %t, %q", x.before, c.Settled, c.Verdict)
		}
	}
	var c caseTrust
	if c.converged(nil); c.Settled || !strings.HasPrefix(c.Verdict, "nothing feasible found") {
		t.Errorf("nothing found: %t, %q", c.Settled, c.Verdict)
	}
}
