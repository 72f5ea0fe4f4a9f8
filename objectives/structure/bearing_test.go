package structure

import "testing"

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
