package objectives

import (
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"forkfront/kinematics"
	"forkfront/objectives/structure"
)

// fastest is the shortest time a call that a few hundred rounds of each of the works took, in ns. The
// works take turns, so that what else a machine does slows all of them, and a round that was
// interrupted does not count.
func fastest(calls int, works ...func()) []float64 {
	best := make([]float64, len(works))
	for k := range best {
		best[k] = math.Inf(1)
	}
	for range 300 {
		for k, work := range works {
			start := time.Now()
			for range calls {
				work()
			}
			best[k] = math.Min(best[k], float64(time.Since(start).Nanoseconds())/float64(calls))
		}
	}
	return best
}

var sincosSum float64

// sincos1000 is what the speed of a machine is told by.
func sincos1000() {
	for i := range 1000 {
		sin, cos := math.Sincos(float64(i) * 0.01)
		sincosSum += sin * cos
	}
}

// bench is a girder of the demo's size, scored once.
func bench(t testing.TB, structure *structure.Rules) (*scorer, *Design) {
	c := conditions()
	c.Structure = structure
	d := randomDesign(girder(t), rand.New(rand.NewPCG(5, 1)))
	sc := newScorer(c)
	var s Score
	sc.Score(&s, d)
	if s.Missing[Index("brake_dive_mm")] != "" {
		t.Fatal("the design does not work")
	}
	return sc, d
}

// BenchmarkKinematicMeasures gives all measures of the motion of a girder beside 1000 math.Sincos.
func BenchmarkKinematicMeasures(b *testing.B) {
	sc, d := bench(b, nil)
	c := sc.conditions
	var s Score
	b.ReportAllocs()
	for b.Loop() {
		ns := fastest(20, sincos1000, func() { sc.Score(&s, d) }, func() {
			sc.motion.Sweep(d.Mechanism, &c.Chassis, d.Layout, c.TravelMM, c.Samples)
		})
		b.ReportMetric(ns[0], "ns/sincos1000")
		b.ReportMetric(ns[1], "ns/evaluation")
		b.ReportMetric(ns[2], "ns/sweep")
		b.ReportMetric(ns[1]/ns[0], "evaluation/sincos1000")
	}
}

// BenchmarkGradientOfMotion gives a full gradient of the searched measures of motion by 12 variables,
// beside an evaluation of all measures of motion.
func BenchmarkGradientOfMotion(b *testing.B) {
	sc, d := bench(b, nil)
	benchmarkGradient(b, sc, d, searched())
}

// BenchmarkGradient is that of all that the demo searches, beside an evaluation of everything.
func BenchmarkGradient(b *testing.B) {
	c, m, r := conditions(), girder(b), rand.New(rand.NewPCG(5, 1))
	sc := newScorer(c)
	var s Score
	for range 1000 {
		d := clearGirder(c, m, r)
		if sc.Score(&s, d); s.Missing[Index("clearance_mm")] == "" && s.Values[Index("clearance_mm")] > 0 {
			benchmarkGradient(b, sc, d, searched("clearance_mm", "hub_clearance_mm", "mass_g", "fore_aft_stiffness_n_per_mm"))
			return
		}
	}
	b.Fatal("no fork with room")
}

func benchmarkGradient(b *testing.B, sc *scorer, d *Design, which []int) {
	var s Score
	direction := make([]kinematics.Vec[float64], len(d.Layout))
	slopes := make([]float64, len(Measures))
	for b.Loop() {
		ns := fastest(10, sincos1000, func() { sc.Score(&s, d) }, func() {
			sc.derivative.Forget() // as a score does
			for v := range 12 {
				clear(direction)
				direction[v/2].Along, direction[v/2].Ahead = float64(v%2), float64(1-v%2)
				sc.study(d).Slope(slopes, direction, which)
			}
		})
		b.ReportMetric(ns[0], "ns/sincos1000")
		b.ReportMetric(ns[1], "ns/evaluation")
		b.ReportMetric(ns[2], "ns/gradient")
		b.ReportMetric(ns[1]/ns[0], "evaluation/sincos1000")
		b.ReportMetric(ns[2]/ns[1], "evaluations/gradient")
	}
}

// searched are the measures of motion among objectives and constraints of a girder's search, and others.
func searched(others ...string) []int {
	var all []int
	for _, name := range append(others,
		"path_straightness_mm", "trail_variation_mm", "leverage_band_error_pct", "anti_dive_band_error_pct", "brake_dive_mm", "shock_stroke_used_pct",
		"spring_rate_n_per_mm", "progression_pct", "transmission_angle_min_deg", "path_inclination_deg", "brake_dive_vs_telescopic_mm",
	) {
		all = append(all, Index(name))
	}
	return all
}
