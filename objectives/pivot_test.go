package objectives

import (
	"math"
	"testing"

	"forkfront/kinematics"
)

// The telescopic fork's bushes in closed form. The fork upright, a braking force B at the contact point
// a radius R below the axle, the upper bush ℓ above the axle and the lower one s below it: the lower
// bears B (R + ℓ)/s, the upper as much less B. A load up alone goes along the legs and presses neither.
func TestTelescopicFriction(t *testing.T) {
	c := &Conditions{Chassis: kinematics.Chassis{FrontRadiusMM: 350}, TravelMM: 150}
	r := &Replaced{BushFriction: 0.05, BushOverlapMM: 100, LowersMM: 400}
	st := &kinematics.State[float64]{TravelMM: 50, SinHead: 1}
	if got := telescopicFriction(c, r, st, 0, 900); got > 1e-12 {
		t.Errorf("%g N without a brake on an upright fork", got)
	}
	want := 0.05 * 700 * (2*(350+400.)/150 - 1)
	if got := telescopicFriction(c, r, st, 700, 900); math.Abs(got-want) > 1e-9 {
		t.Errorf("%g N, want %g", got, want)
	}
}

// A pivot takes rolling bearings where bushes would be heavier, and then only such as bear its load on
// a shaft that is thick enough; heavy loads are left to bushes.
func TestPivotsOfBothKinds(t *testing.T) {
	rolling, plain := 0, 0
	sizedForks(t, 40, func(c *Conditions, d *Design) {
		for _, pressure := range []float64{3, 60} { // 3: bushes so weak that they come out large
			for _, load := range []float64{0.1, 1} {
				c.Structure.Pivots.BushNPerMM2 = pressure
				c.Structure.Cases = []LoadCase{{Name: "landing", At: FullTravel, VerticalStatic: 3 * load}}
				sc := NewScorer(c)
				var s Score
				sc.Score(&s, d)
				for _, p := range sc.Subject().Sized.Pivots {
					half := p.LoadN / 2
					if !p.Rolling {
						plain++
						if p.ShaftMM*p.ShaftMM*pressure < half*(1-1e-12) {
							t.Fatalf("a bush of %g mm bears %g N at %g N/mm²", p.ShaftMM, half, pressure)
						}
						continue
					}
					rolling++
					if b := p.BearingMM; b.StaticN < half || b.BoreMM != p.ShaftMM || b.OutsideMM >= p.OutsideMM {
						t.Fatalf("%+v bears %g N", p, half)
					}
				}
			}
		}
	})
	if rolling < 20 || plain < 20 {
		t.Errorf("%d rolling, %d plain", rolling, plain)
	}
}

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
