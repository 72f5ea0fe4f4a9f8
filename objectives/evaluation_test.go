package objectives

import (
	"math/rand/v2"
	"testing"

	"forkfront/kinematics/mechanism"
)

// forks draws girders of which everything can be told, and their scorer.
func forks(t testing.TB, n int, draw func(*Conditions, *mechanism.Mechanism, *rand.Rand) *Design) (*scorer, []*Design) {
	t.Helper()
	c := conditions()
	m := girder(t)
	r := rand.New(rand.NewPCG(5, 1))
	sc := newScorer(c)
	var s Score
	var all []*Design
	for tries := 0; len(all) < n; tries++ {
		if tries > 100*n {
			t.Fatalf("only %d forks", len(all))
		}
		d := draw(c, m, r)
		if sc.Score(&s, d); s.Missing[Index("clearance_mm")] == "" && s.Missing[Index("brake_dive_mm")] == "" {
			all = append(all, d)
		}
	}
	return sc, all
}

// BenchmarkEvaluation gives a score of all measures but the slow ones, over girders most of which have
// room, beside 1000 math.Sincos: the whole, and what of it sizes and clearance take.
func BenchmarkEvaluation(b *testing.B) {
	const n = 16
	sc, all := forks(b, n, clearGirder)
	var roomless []*Design
	for _, d := range all {
		e := *d
		e.Assembly = nil
		roomless = append(roomless, &e)
	}
	bare := newScorer(conditions())
	bare.conditions.Structure = nil
	var s Score
	each := func(sc *scorer, designs []*Design) func() {
		return func() {
			for _, d := range designs {
				sc.Score(&s, d)
			}
		}
	}
	for b.Loop() {
		ns := fastest(1, sincos1000, each(sc, all), each(sc, roomless), each(bare, roomless))
		whole, sized, motion := ns[1]/n, ns[2]/n, ns[3]/n
		b.ReportMetric(ns[0], "ns/sincos1000")
		b.ReportMetric(whole, "ns/evaluation")
		b.ReportMetric(whole-sized, "ns/clearance")
		b.ReportMetric(sized-motion, "ns/structure")
		b.ReportMetric(motion, "ns/motion")
		b.ReportMetric(whole/ns[0], "evaluation/sincos1000")
		b.ReportMetric(testing.AllocsPerRun(10, each(sc, all)), "allocs/16evaluations")
	}
}

// BenchmarkQuarter gives what the quarter model adds to an evaluation: paired scores of the same forks with it and without.
func BenchmarkQuarter(b *testing.B) {
	_, all := forks(b, 16, clearGirder)
	c := damped()
	with, without := newScorer(c), newScorer(NewConditions(c.Setting, c.Structure, nil)) // the wheel has a mass in both
	var s Score
	each := func(sc *scorer) func() {
		return func() {
			for _, d := range all {
				sc.Score(&s, d)
			}
		}
	}
	for b.Loop() {
		ns := fastest(1, each(without), each(with))
		b.ReportMetric(ns[0]/16, "ns/evaluation")
		b.ReportMetric((ns[1]-ns[0])/16, "ns/quarter")
		b.ReportMetric(100*(ns[1]/ns[0]-1), "%")
	}
}
