package jobs

import (
	"math"
	"path/filepath"
	"testing"
	"time"

	"forkfront/jobs/cases"
	"forkfront/jobs/files/sections"
	"forkfront/objectives"
)

var sincosSum float64

// BenchmarkConcepts gives a score of every example that has sizes beside 1000 math.Sincos, each the fastest of some
// hundred in turn; once more with tubes sized for test loads.
func BenchmarkConcepts(b *testing.B) {
	for _, path := range conceptFiles(b) {
		b.Run(filepath.Base(path), func(b *testing.B) {
			c, d := readExample(b, path)
			var s objectives.Score
			best := [5]float64{math.Inf(1), math.Inf(1), math.Inf(1), math.Inf(1), math.Inf(1)}
			full := objectives.NewScorer(cases.Conditions(c))
			cond := *cases.Conditions(c)
			cond.Structure = nil
			bare := objectives.NewScorer(&cond)
			unassembled := *d
			unassembled.Assembly = nil
			c.Proof = sections.ProofSection{Preset: "iso-4210-6-mountain", Scale: 1, Joint: "notch", Deviations: 2, SizeTubes: true}
			tested := objectives.NewScorer(cases.Conditions(c))
			var hard objectives.Score
			works := [5]func(){
				func() {
					for i := range 1000 {
						sin, cos := math.Sincos(float64(i) * 0.01)
						sincosSum += sin * cos
					}
				},
				func() { full.Score(&s, d) }, func() { full.Score(&s, &unassembled) }, func() { bare.Score(&s, &unassembled) },
				func() { tested.Score(&hard, d) },
			}
			for b.Loop() {
				for range 300 {
					for k, work := range works {
						start := time.Now()
						work()
						best[k] = math.Min(best[k], float64(time.Since(start).Nanoseconds()))
					}
				}
			}
			b.ReportMetric(best[1]/best[0], "evaluation/sincos1000")
			b.ReportMetric(best[4]/best[0], "tested/sincos1000")
			b.ReportMetric((best[1]-best[2])/best[0], "clearance/sincos1000")
			b.ReportMetric((best[2]-best[3])/best[0], "structure/sincos1000")
			b.ReportMetric(best[3]/best[0], "motion/sincos1000")
			b.ReportMetric(0, "ns/op")
		})
	}
}
