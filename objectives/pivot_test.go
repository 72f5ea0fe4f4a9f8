package objectives

import (
	"testing"

	"forkfront/objectives/structure/loads"
)

// A pivot takes rolling bearings where bushes would be heavier, and then only such as bear its load on
// a shaft that is thick enough; heavy loads are left to bushes.
func TestPivotsOfBothKinds(t *testing.T) {
	rolling, plain := 0, 0
	sizedForks(t, 40, func(c *Conditions, d *Design) {
		for _, pressure := range []float64{3, 60} { // 3: bushes so weak that they come out large
			for _, load := range []float64{0.1, 1} {
				c.Structure.Pivots.BushNPerMM2 = pressure
				c.Structure.Cases = []loads.Case{{Name: "landing", At: loads.FullTravel, VerticalStatic: 3 * load}}
				sc := newScorer(c)
				var s Score
				sc.Score(&s, d)
				for _, p := range Sizes(sc.study(nil)).Pivots {
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
