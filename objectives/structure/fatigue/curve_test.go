package fatigue

import (
	"fmt"
	"math"
	"testing"
)

func close(t *testing.T, what string, got, want, by float64) {
	t.Helper()
	if !(math.Abs(got-want) <= by) {
		t.Errorf("%s: %.6g, want %.6g", what, got, want)
	}
}

func curve(t *testing.T, material string, joint Joint) Curve {
	t.Helper()
	c, why := Of(material, joint, 0)
	if why != "" {
		t.Fatal(why)
	}
	return c
}

// A worked value of MIL-HDBK-5J's curve of 2024-T3 without a notch, read in a public copy: 40 ksi from 0 gives
// log10 N = 5.6063.
func TestWorkedLife(t *testing.T) {
	close(t, "log10 of the life", math.Log10(curve(t, "2024-T3", Smooth).Cycles(40*6.894757293168362, 0, 0)), 5.6063, 5e-5)
}

// Amplitudes of 100,000 reversals, computed by hand from the coefficients, in MPa.
func TestAmplitudes(t *testing.T) {
	for _, c := range []struct {
		material   string
		joint      Joint
		deviations float64
		want       float64
	}{{"7075-T6", Smooth, 0, 246.0}, {"7075-T6", Smooth, 2, 177.7}, {"7075-T6", Notch, 0, 137.4}, {"7075-T6", Notch, 2, 115.8}, {"7075-T6", Welded, 2, 29.9}} {
		close(t, c.material+" "+string(c.joint), curve(t, c.material, c.joint).Stress(1e5, -1, c.deviations), c.want, 0.05)
	}
}

// Stress and life are each other's inverse; more stress, more deviations, a ratio farther from 1 and a joint with a notch
// never mean a longer life.
func TestCurvesAreMonotone(t *testing.T) {
	for material := range known {
		for _, joint := range Joints {
			c, why := Of(material, joint, 0)
			if why != "" {
				continue
			}
			for _, cycles := range []float64{1e4, 1e5, 1e6} {
				for _, ratio := range []float64{-1, -0.5, 0, 0.3} {
					s := c.Stress(cycles, ratio, 1)
					close(t, material+" back", math.Log10(c.Cycles(s, ratio, 1)), math.Log10(cycles), 1e-9)
					if c.Stress(2*cycles, ratio, 1) > s || c.Stress(cycles, ratio, 2) > s || c.Stress(cycles, ratio-0.1, 1) > s || c.Cycles(1.01*s, ratio, 1) > cycles {
						t.Errorf("%s %s at %g cycles, ratio %g: not monotone", material, joint, cycles, ratio)
					}
					smooth := curve(t, material, Smooth)
					if s > smooth.Stress(cycles, ratio, 1)*1.0001 && joint != Smooth {
						t.Errorf("%s %s withstands more than smooth", material, joint)
					}
				}
			}
		}
	}
}

// Damage is 1 at the end of a life, adds up, and is nothing without stress or below the limit.
func TestDamage(t *testing.T) {
	c := curve(t, "2024-T3", Notch)
	life := c.Cycles(200, -1, 2)
	close(t, "one life", Damage(c, 2, Block{200, -1, life}), 1, 1e-12)
	close(t, "halves", Damage(c, 2, Block{200, -1, life / 2}, Block{150, 0, c.Cycles(150, 0, 2) / 4}), 0.75, 1e-12)
	close(t, "no stress", Damage(c, 2, Block{0, -1, 1e9}), 0, 0)
	close(t, "below the limit", Damage(c, 2, Block{40, -1, 1e12}), 0, 0)
}

func TestUnknownCurves(t *testing.T) {
	for _, c := range []struct {
		material string
		joint    Joint
		class    float64
		known    bool
	}{{"Ti-6Al-4V", Notch, 0, false}, {"Ti-6Al-4V", Welded, 0, false}, {"Ti-6Al-4V", Welded, 40, true}, {"6061-T6", Notch, 0, false}, {"4130", Notch, 0, false}, {"4130", Welded, 0, true}} {
		got, why := Of(c.material, c.joint, c.class)
		if (got != nil) != c.known || (why == "") != c.known {
			t.Errorf("%v: %v, %q", c, got, why)
		}
	}
}

func ExampleEquivalent() {
	c, _ := Of("2024-T3", Smooth, 0)
	fmt.Printf("%.3g cycles between 0 and 275.8 MPa\n", c.Cycles(275.8, 0, 0))
	// Output: 4.04e+05 cycles between 0 and 275.8 MPa
}
