package sections

import (
	"math"
	"testing"
)

// NIST Special Publication 811, appendix B.8 (value from memory): a pound-force per inch is 1.751268e2 N/m.
func TestCoilsAreInPoundsPerInch(t *testing.T) {
	rates := CoilsOnSale()
	for i, rate := range rates {
		want := (250 + 25*float64(i)) * 1.751268e2 / 1000
		if math.Abs(rate-want) > 5e-8*(250+25*float64(i)) { // half of the last printed digit
			t.Errorf("coil %d: %.9g N/mm, want %.9g", i, rate, want)
		}
	}
	if len(rates) != 17 || math.Abs(rates[16]/rates[0]-2.6) > 1e-12 {
		t.Errorf("%d rates from %g to %g", len(rates), rates[0], rates[len(rates)-1])
	}
}
