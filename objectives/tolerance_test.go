package objectives

import (
	"math"
	"math/rand/v2"
	"testing"
)

// The first-order deviation against the scatter of 4000 forks whose points lie off by a hundredth of a
// millimetre, where the first order is all there is. A standard deviation from 4000 draws is known to
// 1.1 %; four times that is allowed.
func TestTolerancesAgainstScatter(t *testing.T) {
	m := girder(t)
	c := conditions()
	c.Structure.ToleranceMM = 0.01
	r := rand.New(rand.NewPCG(31, 7))
	sc, other := newScorer(c), newScorer(c)
	var s, moved Score
	for tried := 0; tried < 2; {
		d := randomDesign(m, r)
		if sc.Score(&s, d); s.Missing[Index("mass_g")] != "" {
			continue
		}
		tried++
		sc.study(d).Complete(&s)
		sums, squares := make([]float64, len(Measures)), make([]float64, len(Measures))
		const draws = 4000
		for range draws {
			e := *d
			e.Layout = append(e.Layout[:0:0], d.Layout...)
			for i, name := range m.Points {
				if name != "axle" && name != "root" {
					e.Layout[i].Along += 0.01 * r.NormFloat64()
					e.Layout[i].Ahead += 0.01 * r.NormFloat64()
				}
			}
			other.Score(&moved, &e)
			for i := range Measures {
				off := moved.Values[i] - s.Values[i]
				sums[i] += off
				squares[i] += off * off
			}
		}
		for i := range Measures {
			if Measures[i].ToleranceOf == "" {
				continue
			}
			k := Index(Measures[i].ToleranceOf)
			mean := sums[k] / draws
			scatter := math.Sqrt(squares[k]/draws - mean*mean)
			if s.Missing[i] != "" || math.Abs(s.Values[i]-scatter) > 0.045*scatter+1e-9 {
				t.Errorf("%s: %.6g, scatter %.6g; missing %q", Measures[i].Name, s.Values[i], scatter, s.Missing[i])
			}
		}
	}
}

// A tighter tolerance never gives a larger deviation, and each point's larger slope is the one that
// is said to matter.
func TestTighterTolerancesScatterLess(t *testing.T) {
	sizedForks(t, 20, func(c *Conditions, d *Design) {
		before := math.Inf(1)
		for _, mm := range []float64{0.5, 0.2, 0.1, 0} {
			c.Structure.ToleranceMM = mm
			sc := newScorer(c)
			var s Score
			sc.Score(&s, d)
			total := 0.0
			for _, of := range sc.study(d).Tolerances() {
				total += of.Deviation
				for _, p := range of.Pivots {
					if (p.Matters == "ahead") != (math.Abs(p.Ahead) > math.Abs(p.Along)) {
						t.Fatalf("%s of %s: %+v", of.Measure, p.Point, p)
					}
				}
			}
			if total >= before || mm == 0 && total != 0 {
				t.Fatalf("tolerance %g: %g after %g", mm, total, before)
			}
			before = total
		}
	})
}
