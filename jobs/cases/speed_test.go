package cases

import (
	"maps"
	"math"
	"math/rand/v2"
	"slices"
	"testing"
	"time"

	"forkfront/constraints"
	"forkfront/objectives"
	"forkfront/optimize"
)

// demanding is a case with at least the objectives and limits that the demo has for sizes and clearance.
func demanding(c *Case) {
	for _, name := range []string{"clearance_mm", "mass_g"} {
		i := objectives.Index(name)
		if !slices.ContainsFunc(c.Goals, func(g objectives.Goal) bool { return g.Measure == i }) {
			c.Goals = append(c.Goals, objectives.Goal{Measure: i, Aim: map[bool]objectives.Aim{true: objectives.Largest}[name == "clearance_mm"]})
		}
	}
	i := objectives.Index("fore_aft_stiffness_n_per_mm")
	if c.LimitOn(i) < 0 {
		l := constraints.At(i)
		l.Min = 60
		c.Limits = append(c.Limits, l)
	}
}

// BenchmarkGradients gives the gradient of all objectives and constraints of every short job, with those of sizes and clearance, in
// evaluations of the same forks, random ones that work. It comes after the evaluation of its fork, as most do in a search; by
// itself it takes that evaluation too.
func BenchmarkGradients(b *testing.B) {
	all := shortCases(b)
	for _, name := range slices.Sorted(maps.Keys(all)) {
		b.Run(name, func(b *testing.B) {
			c := all[name]
			demanding(c)
			p, r := c.Worker(), rand.New(rand.NewPCG(17, 4))
			dst := optimize.Outcome{F: make([]float64, len(c.Goals)), G: make([]float64, 1+len(c.Limits))}
			df, dg := make([][]float64, len(dst.F)), make([][]float64, len(dst.G))
			for i := range df {
				df[i] = make([]float64, len(c.Free))
			}
			for i := range dg {
				dg[i] = make([]float64, len(c.Free))
			}
			var forks [][]float64
			for range 2000 {
				x := drawn(c, r)
				if p.Evaluate(&dst, x); len(forks) < 8 && dst.G[0] <= 0 && p.Gradient(df, dg, x) {
					forks = append(forks, x)
				}
			}
			if len(forks) < 2 { // or each would be the one scored last
				b.Fatal("too few forks that work")
			}
			works := [2]func(x []float64){
				func(x []float64) { p.Evaluate(&dst, x) },
				func(x []float64) { p.Gradient(df, dg, x) },
			}
			best := make([][2]float64, len(forks)) // of each fork, least of all rounds
			for i := range best {
				best[i] = [2]float64{math.Inf(1), math.Inf(1)}
			}
			for b.Loop() {
				for range 100 {
					for i, x := range forks {
						for k, work := range works {
							start := time.Now()
							work(x)
							best[i][k] = math.Min(best[i][k], float64(time.Since(start).Nanoseconds()))
						}
					}
				}
			}
			var evaluation, gradient float64
			for _, ns := range best {
				evaluation, gradient = evaluation+ns[0]/float64(len(forks)), gradient+ns[1]/float64(len(forks))
			}
			continuous := 0
			for v := range c.Free {
				if c.Free[v].Variable.Levels == 0 {
					continuous++
				}
			}
			b.ReportMetric(float64(continuous), "variables")
			b.ReportMetric(evaluation/1000, "µs/evaluation")
			b.ReportMetric(gradient/evaluation, "evaluations/gradient")
			b.ReportMetric(0, "ns/op")
		})
	}
}
