package objectives

import (
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"forkfront/kinematics"
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
func bench(t testing.TB, structure *Structure) (*Scorer, *Design) {
	c := conditions()
	c.Structure = structure
	d := randomDesign(girder(t), rand.New(rand.NewPCG(5, 1)))
	sc := NewScorer(c)
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
	var s Score
	for b.Loop() {
		ns := fastest(20, sincos1000, func() { sc.Score(&s, d) }, func() {
			sc.motion.Sweep(d.Mechanism, &sc.conditions.Chassis, d.Layout, sc.conditions.TravelMM, sc.conditions.Samples)
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
	var s Score
	direction := make([]kinematics.Vec[float64], len(d.Layout))
	var searched []int
	for _, name := range searchedMotion {
		searched = append(searched, Index(name))
	}
	slopes := make([]float64, len(Measures))
	for b.Loop() {
		ns := fastest(10, func() { sc.Score(&s, d) }, func() {
			for v := range 12 {
				clear(direction)
				direction[v/2].Along, direction[v/2].Ahead = float64(v%2), float64(1-v%2)
				sc.Slope(slopes, d, direction, searched)
			}
		})
		b.ReportMetric(ns[0], "ns/evaluation")
		b.ReportMetric(ns[1], "ns/gradient")
		b.ReportMetric(ns[1]/ns[0], "evaluations/gradient")
	}
}

// searchedMotion are the measures of motion among objectives and constraints of a girder's search.
var searchedMotion = []string{
	"path_straightness_mm", "trail_variation_mm", "leverage_band_error_pct", "anti_dive_band_error_pct", "brake_dive_mm", "shock_stroke_used_pct",
	"spring_rate_n_per_mm", "progression_pct", "transmission_angle_min_deg", "path_lean_deg", "brake_dive_vs_telescopic_mm",
}
