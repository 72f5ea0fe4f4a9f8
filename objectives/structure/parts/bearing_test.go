package parts

import (
	"math"
	"testing"
)

// Published static ratings (ISO 76, C0 = f0 Z Dw²) of the sizes that makers print with their factors:
// 10-19-5 0.925 kN, 10-22-6 1.27, 12-21-5 1.04, 12-24-6 1.46; and the standard's sizes fit each other.
func TestBearings(t *testing.T) {
	published := map[[3]float64]float64{{10, 19, 5}: 925, {10, 22, 6}: 1270, {12, 21, 5}: 1040, {12, 24, 6}: 1460}
	found := 0
	for _, b := range bearings {
		if want, is := published[[3]float64{b.BoreMM, b.OutsideMM, b.WidthMM}]; is {
			found++
			if b.StaticN != want {
				t.Errorf("%+v: want %g N", b, want)
			}
		}
		if wall := (b.OutsideMM - b.BoreMM) / 2; wall < 4 || b.WidthMM < wall*0.8 || b.massG() < 3 || b.massG() > 60 {
			t.Errorf("%+v is no such bearing: %g g", b, b.massG())
		}
	}
	if found != len(published) {
		t.Errorf("%d of %d found", found, len(published))
	}
}

// The dynamic ratings of the sizes whose static ratings are published, by ISO 281: C = bm fc Z^⅔ Dw^1.8, bm 1.3, with the
// balls that give the static ones by ISO 76, C0 = f0 Z Dw². fc is interpolated in the standard's table for single-row
// deep-groove bearings. Formula, bm and fc are from memory; f0 as makers print it.
func TestDynamicRatings(t *testing.T) {
	fc := [][2]float64{{0.12, 57.5}, {0.14, 58.8}, {0.16, 59.6}, {0.18, 59.9}, {0.20, 59.9}} // by Dw/Dpw
	factor := func(ratio float64) float64 {
		for i := 1; i < len(fc); i++ {
			if ratio <= fc[i][0] {
				return fc[i-1][1] + (fc[i][1]-fc[i-1][1])*(ratio-fc[i-1][0])/(fc[i][0]-fc[i-1][0])
			}
		}
		return math.NaN()
	}
	for _, known := range []struct{ bore, outside, width, f0, balls, ball float64 }{
		{10, 19, 5, 14.8, 11, 2.381}, {10, 22, 6, 14.0, 9, 3.175}, {12, 21, 5, 15.3, 12, 2.381}, {12, 24, 6, 14.5, 10, 3.175},
	} {
		for _, b := range bearings {
			if b.BoreMM != known.bore || b.OutsideMM != known.outside || b.WidthMM != known.width {
				continue
			}
			if static := known.f0 * known.balls * known.ball * known.ball; math.Abs(static/b.StaticN-1) > 0.01 {
				t.Errorf("%s: C0 %g by ISO 76, %g in the list", &b, static, b.StaticN)
			}
			ratio := known.ball / ((known.bore + known.outside) / 2)
			if dynamic := 1.3 * factor(ratio) * math.Pow(known.balls, 2./3) * math.Pow(known.ball, 1.8); math.Abs(dynamic/b.DynamicN-1) > 0.01 {
				t.Errorf("%s: C %g by ISO 281, %g in the list", &b, dynamic, b.DynamicN)
			}
		}
	}
	for _, b := range bearings {
		if ratio := b.DynamicN / b.StaticN; ratio < 1.5 || ratio > 2.2 {
			t.Errorf("%s: C is %g times C0", &b, ratio)
		}
		if b.LifeUsed(b.DynamicN, 1e6) != 1 || math.Abs(b.LifeUsed(b.DynamicN/2, 1e6)-1./8) > 1e-15 {
			t.Errorf("%s: not the life of ISO 281", &b)
		}
	}
}
