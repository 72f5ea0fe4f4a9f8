package testbed

import (
	"math"
	"testing"
)

func TestKnownEndsOfFronts(t *testing.T) {
	for _, c := range []struct {
		p            *Problem
		ideal, nadir []float64
		within       float64 // what the recalled digits and the steps of the curve are good for
		source       string
	}{
		{ZDT6(), []float64{0.2807753191, 0}, []float64{1, 1 - 0.2807753191*0.2807753191}, 1e-7, "published, recalled"},
		{FON(), []float64{0, 0}, []float64{1 - math.Exp(-4), 1 - math.Exp(-4)}, 1e-12, "closed form: the points are 2 apart"},
		{CONSTR(), []float64{7.0 / 18, 1}, []float64{1, 9}, 1e-12, "closed form: both constraints meet at (7/18, 5/2)"},
		{OSY(), []float64{-274, 4}, []float64{-42, 76}, 1e-9, "by hand, from the ends (5, 1, 5, 0, 5, 0) and (1, 1, 1, 0, 1, 0)"},
		{MW1(), []float64{0, 0.15}, []float64{1, 1}, 1e-12, "closed form: both ends of the line are allowed"},
		{MW3(), []float64{0, 0}, []float64{1, 1}, 1e-12, "closed form: both ends of the line are allowed"},
		{MW7(), []float64{0, 0}, []float64{1.15, 1.15}, 1e-12, "closed form: 1.15 − 0.2 sin⁸ 0"},
		{WFG1(), []float64{0, 0}, []float64{2, 4}, 1e-12, "closed form: the shapes at 0 and 1"},
		{WFG2(), []float64{0, 0}, []float64{2, 4}, 1e-12, "closed form: the shapes at 0 and 1"},
		{DTLZ7(), []float64{0, 0, 2.614009}, []float64{0.859401, 0.859401, 6}, 2e-6, "published, recalled"},
	} {
		for i := range c.ideal {
			if math.Abs(c.p.Ideal[i]-c.ideal[i]) > c.within || math.Abs(c.p.Nadir[i]-c.nadir[i]) > c.within {
				t.Errorf("%s: %.9g to %.9g, want %.9g to %.9g (%s)", c.p.Name, c.p.Ideal, c.p.Nadir, c.ideal, c.nadir, c.source)
			}
		}
	}
}

// Closed forms, by integrals under the fronts; normalised, a front in two objectives has
// 1.21 − ∫ f2 df1. The step of a curve takes some 1e-5.
func TestKnownVolumes(t *testing.T) {
	const least = 0.2807753191 // of ZDT6's first objective, recalled
	constr := 7*math.Log(12.0/7) - 9*(5.0/18) + math.Log(1.5) - 11.0/18
	for _, c := range []struct {
		p      *Problem
		volume float64
	}{
		{ZDT6(), 1.21 - (2.0/3-least+least*least*least/3)/((1-least)*(1-least*least))},
		{CONSTR(), 1.21 - constr/8*18/11},
		{WFG1(), 1.21 - wfg1Below()},
		{DTLZ1Inverted(2), 0.21 + 0.5}, // upside down, a line from (0, 1) to (1, 0) is the same
		{DTLZ1Inverted(3), 0.001 + 3*0.01 + 3*0.1/2 + 1.0/6},
		{WFG(4, 2), 1.21 - math.Pi/4}, // a quarter of a circle
		{WFG(4, 3), 1.331 - math.Pi/6},
	} {
		if d := c.p.Volume - c.volume; math.Abs(d) > 1e-5 {
			t.Errorf("%s, %d objectives: volume %.7f, want %.7f", c.p.Name, c.p.M, c.p.Volume, c.volume)
		}
	}
}

// wfg1Below is ∫ (1 − x + sin(10πx)/(10π)) d(1 − cos(πx/2)) from 0 to 1. The first part is
// 1 − 2/π (by parts: ∫ (1 − cos(πx/2)) dx); the second, ∫ sin(10πx) sin(πx/2) dx / 20, is
// −10/(π (10² − 1/4)) / 20 as sin(10π − π/2) = −1 and sin(10π + π/2) = 1.
func wfg1Below() float64 { return 1 - 2/math.Pi - 10/(math.Pi*(100-0.25))/20 }

// The fronts of CTP3 and 4 are the points where the wave of the constraint is 0: k half waves
// along, at u = k/10, which is (u cos θ, 1 + u sin θ), θ = −0.2 π, up to f1 = 1.
func TestCTPFrontsArePoints(t *testing.T) {
	sin, cos := math.Sincos(-0.2 * math.Pi)
	for _, number := range []int{3, 4} {
		var tips [][]float64
		for k := 0.0; k/10*cos <= 1; k++ {
			tips = append(tips, []float64{k / 10 * cos, 1 + k/10*sin})
		}
		p, last := CTP(number), tips[len(tips)-1]
		ideal, nadir := []float64{0, last[1]}, []float64{last[0], 1}
		if want := normalised(tips, ideal, nadir); math.Abs(p.Volume-want) > rounding || math.Abs(p.Nadir[0]-last[0]) > rounding {
			t.Errorf("%s: volume %.7f to f1 = %.7f, want %.7f to %.7f", p.Name, p.Volume, p.Nadir[0], want, last[0])
		}
	}
}

// The values at the ends and at the optimum are those that the paper's definitions give by
// hand.
func TestTransformationsOfWFG(t *testing.T) {
	for _, c := range []struct {
		name      string
		got, want float64
	}{
		{"linear, optimum", shift(0.35), 0},
		{"linear, lower end", shift(0), 1},
		{"linear, upper end", shift(1), 1},
		{"linear, half way up", shift(0.675), 0.5},
		{"multi, optimum", shiftMulti(0.35, 30, 10, 0.35), 0},
		{"multi, lower end", shiftMulti(0, 30, 10, 0.35), 1},
		{"multi, upper end", shiftMulti(1, 30, 10, 0.35), 1},
		{"deceptive, optimum", deceive(0.35), 0},
		{"deceptive, rim of the gap", deceive(0.351), 1},
		{"deceptive, lower end", deceive(0), 0.05},
		{"deceptive, upper end", deceive(1), 0.05},
		{"flat, lower end", biasFlat(0, 0.8, 0.75, 0.85), 0},
		{"flat, plateau", biasFlat(0.8, 0.8, 0.75, 0.85), 0.8},
		{"flat, upper end", biasFlat(1, 0.8, 0.75, 0.85), 1},
		{"bias, none", biasBy(0.3, 0.5), 0.3},
		{"bias, up", biasBy(0.3, 0), math.Pow(0.3, 0.02)},
		{"bias, down", biasBy(0.9, 1), math.Pow(0.9, 50)},
		{"entangled, low", entangled([]float64{0, 0, 0, 0}), 0},
		{"entangled, alike", entangled([]float64{1, 1, 1, 1}), 0.4},
		{"entangled, at odds", entangled([]float64{1, 0, 1, 0}), 1},
		{"entangled, two", entangled([]float64{0.5, 0}), 0.5},
		{"entangled, three", entangled([]float64{1, 0, 0}), 5.0 / 6},
	} {
		if math.Abs(c.got-c.want) > 1e-9 {
			t.Errorf("%s: %g, want %g", c.name, c.got, c.want)
		}
	}
}
