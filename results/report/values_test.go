package report

import (
	"math"
	"strconv"
	"testing"
)

// A packed number is the one that its four digits stand for, whatever its size and sign.
func TestValuesReadBack(t *testing.T) {
	values := []float64{0, math.Copysign(0, -1), 12.5, -0.0012345, 99995, 9.9999e-5, -4096, 1e300, -3.21e-200, math.NaN(), math.Inf(1)}
	b := appendValues([]byte{7}, values)[1:]
	n := len(values)
	if len(b) != 4*n {
		t.Fatalf("%d bytes for %d values", len(b), n)
	}
	for row, v := range values {
		whole, power := int16(b[row])|int16(b[n+row])<<8, int(b[2*n+row])+int(b[3*n+row])<<8-512
		if math.IsNaN(v) || math.IsInf(v, 0) {
			if whole != math.MinInt16 {
				t.Errorf("%g is packed as %d", v, whole)
			}
			continue
		}
		want, err := strconv.ParseFloat(strconv.FormatFloat(v, 'g', 4, 64), 64)
		if err != nil {
			t.Fatal(err)
		}
		if got, err := strconv.ParseFloat(strconv.Itoa(int(whole))+"e"+strconv.Itoa(power), 64); err != nil || got != want {
			t.Errorf("%g reads back as %g, %v; want %g", v, got, err, want)
		}
	}
}

// Motions of suggested candidates stand first, and every candidate has one.
func TestMotionsOfSuggestionsComeFirst(t *testing.T) {
	p := &packed{Picks: []packedPick{{Row: 3}, {Row: 1}}}
	for i, want := range []int{3, 1, 0, 2, 4} {
		if got := p.motionOrder(5)[i]; got != want {
			t.Errorf("place %d has row %d, want %d", i, got, want)
		}
	}
}
