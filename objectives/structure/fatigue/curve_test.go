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

// Lives of all curves at a stress and a ratio, worked out by hand from the coefficients of MIL-HDBK-5J as they were read or
// remembered: log₁₀ N = A1 − A2 log₁₀(S (1 − R)^A3 − A4), S in ksi. 2024-T3 without a notch, 40 and 0.5: 27.131 − 15.8 = 11.331,
// its logarithm 1.0543, 11.1 − 3.97 · 1.0543. The welds' are 2 million (FAT/S)³.
func TestCoefficients(t *testing.T) {
	for _, c := range []struct {
		material          string
		joint             Joint
		largest, ratio    float64 // ksi, of welds MPa
		want, byDeviation float64 // of the logarithm
	}{
		{"2024-T3", Smooth, 40, 0.5, 11.1 - 3.97*math.Log10(40*math.Pow(0.5, 0.56)-15.8), 0.38},
		{"2024-T3", Smooth, 40, 0.5, 6.9144, 0.38},
		{"2024-T3", Notch, 30, 0, 9.2 - 3.33*1.2480, 0.27},
		{"2024-T3", Notch, 20, -1, 9.2 - 3.33*1.2954, 0.27},
		{"7075-T6", Smooth, 40, 0, 14.86 - 5.80*1.60206, 0.41},
		{"7075-T6", Smooth, 30, -1, 14.86 - 5.80*(1.47712+0.49*0.30103), 0.41},
		{"7075-T6", Notch, 30, 0, 7.50 - 2.46*1.0569, 0.31},
		{"6061-T6", Smooth, 25, 0, 20.68 - 9.84*1.39794, 0},
		{"6061-T6", Smooth, 25, -1, 20.68 - 9.84*(1.39794+0.63*0.30103), 0},
		{"4130", Smooth, 80, 0, 9.65 - 2.85*1.2718, 0},
		{"7075-T6", Welded, 44, 0, math.Log10(2.5e5), 0},
		{"4130", Welded, 63, -1, math.Log10(2.5e5), 0},
	} {
		s := c.largest
		if c.joint != Welded {
			s *= 6.894757
		}
		of := curve(t, c.material, c.joint)
		close(t, fmt.Sprint(c), math.Log10(of.Cycles(s, c.ratio, 0)), c.want, 1e-3)
		close(t, fmt.Sprint(c, " two deviations below"), math.Log10(of.Cycles(s, c.ratio, 2)), c.want-2*c.byDeviation, 1e-3)
		low, high := math.Log(of.Cycles(s*0.9999, c.ratio, 0)), math.Log(of.Cycles(s*1.0001, c.ratio, 0))
		close(t, fmt.Sprint(c, " exponent"), of.Exponent(s, c.ratio), (low-high)/2e-4, 1e-5)
	}
	if YieldLeft("6061-T6", Welded) != 0.5 || YieldLeft("6061-T6", Notch) != 1 || YieldLeft("7075-T6", Welded) != 1 {
		t.Error("only a weld halves the yield strength, of 6061-T6")
	}
}
