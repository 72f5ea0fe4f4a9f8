// Package fatigue predicts how many cycles of stress a material or a joint withstands, and the damage that many cause
// together. It knows nothing of forks.
package fatigue

import "math"

// Curve is how many cycles are withstood at a stress that varies between a largest and a smallest one. Stresses are nominal,
// in MPa; ratio is the smallest over the largest: −1 for a load that reverses, 0 for one that pulsates.
type Curve interface {
	// Cycles is how many are withstood by all but the share of specimens beyond a number of standard deviations; +Inf
	// below a fatigue limit.
	Cycles(largest, ratio, deviations float64) float64
	// Stress is the largest one that is withstood for a number of cycles.
	Stress(cycles, ratio, deviations float64) float64
	// Exponent is how steeply lives fall with the stress, −d log N / d log S: 0 below a fatigue limit.
	Exponent(largest, ratio float64) float64
	// Source says where the curve comes from, and whether that was read.
	Source() string
}

// Equivalent is a curve of equivalent stress as MIL-HDBK-5 states them, with stresses in ksi:
//
//	log10 N = A1 − A2 log10(Smax (1 − R)^A3 − A4)
//
// and a standard deviation of log10 N. It does not reach beyond the stresses and ratios that were tested.
type Equivalent struct {
	A1, A2, A3, A4, Deviation float64
	From                      string
}

// mpaPerKSI is exact: 1 lbf = 4.4482216152605 N, 1 in = 25.4 mm.
const mpaPerKSI = 4.4482216152605 * 1000 / (25.4 * 25.4)

func (c *Equivalent) Cycles(largest, ratio, deviations float64) float64 {
	above := largest/mpaPerKSI*math.Pow(1-ratio, c.A3) - c.A4
	if above <= 0 {
		return math.Inf(1)
	}
	return math.Pow(10, c.A1-deviations*c.Deviation-c.A2*math.Log10(above))
}

func (c *Equivalent) Stress(cycles, ratio, deviations float64) float64 {
	above := math.Pow(10, (c.A1-deviations*c.Deviation-math.Log10(cycles))/c.A2)
	return mpaPerKSI * (above + c.A4) / math.Pow(1-ratio, c.A3)
}

func (c *Equivalent) Exponent(largest, ratio float64) float64 {
	equivalent := largest / mpaPerKSI * math.Pow(1-ratio, c.A3)
	if equivalent <= c.A4 {
		return 0
	}
	return c.A2 * equivalent / (equivalent - c.A4)
}

func (c *Equivalent) Source() string { return c.From }

// Weld is a welded joint by its class: the range of nominal stress in MPa that it withstands for two million cycles, with
// 97.7 % survival, whatever the mean stress. Life falls with the third power of the range. (IIW recommendations, from
// memory.)
type Weld struct {
	Class float64
	From  string
}

const weldCycles, weldSlope = 2e6, 3

// Cycles takes no account of deviations: the class has two of them in it.
func (w *Weld) Cycles(largest, ratio, _ float64) float64 {
	return weldCycles * math.Pow(w.Class/(largest*(1-ratio)), weldSlope)
}

// Stress takes no account of deviations: the class has two of them in it.
func (w *Weld) Stress(cycles, ratio, _ float64) float64 {
	return w.Class * math.Pow(weldCycles/cycles, 1./weldSlope) / (1 - ratio)
}

func (w *Weld) Exponent(float64, float64) float64 { return weldSlope }

func (w *Weld) Source() string { return w.From }

// Damage is the sum of cycles over the cycles that are withstood (Palmgren and Miner): failure is expected at 1.
func Damage(c Curve, deviations float64, blocks ...Block) (sum float64) {
	for _, b := range blocks {
		if b.LargestMPa > 0 {
			sum += b.Cycles / c.Cycles(b.LargestMPa, b.Ratio, deviations)
		}
	}
	return sum
}

// Block is a number of equal cycles.
type Block struct{ LargestMPa, Ratio, Cycles float64 }
