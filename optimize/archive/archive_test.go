package archive

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"forkfront/optimize/dominance"
	"forkfront/optimize/population"
	"forkfront/optimize/problem"
	"forkfront/optimize/spacing"
)

// Both comparisons must be strict orders: never better than itself, never better both ways,
// transitive. Small integers make ties and chains common.
func TestComparisonsAreStrictOrders(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 1))
	random := func() *population.Member {
		m := population.New(1, 1, 3, 0)[0]
		for i := range m.Outcome.F {
			m.Outcome.F[i] = float64(rng.IntN(3))
		}
		m.Feasible = rng.IntN(3) > 0
		if !m.Feasible {
			m.Violation = float64(1 + rng.IntN(3))
		}
		return m
	}
	a := New([]problem.Objective{{Resolution: 2}, {}, {Resolution: 3}}, 10)
	chains := 0
	for name, less := range map[string]func(x, y *population.Member) bool{
		"better":    population.Better,
		"prefer":    a.preferred,
		"dominates": func(x, y *population.Member) bool { return dominance.Dominates(x.Outcome.F, y.Outcome.F) },
	} {
		for range 20000 {
			x, y, z := random(), random(), random()
			if less(x, x) || less(x, y) && less(y, x) {
				t.Fatalf("%s: %v and %v", name, x.Outcome.F, y.Outcome.F)
			}
			if less(x, y) && less(y, z) {
				chains++
				if !less(x, z) {
					t.Fatalf("%s: %v, %v, %v", name, x.Outcome.F, y.Outcome.F, z.Outcome.F)
				}
			}
		}
	}
	if chains < 1000 {
		t.Fatalf("only %d chains tried", chains)
	}
}

// The archive against the definition: what is left of random points is exactly those whose
// box no other point's box dominates, one a box.
func TestArchiveHoldsTheNondominated(t *testing.T) {
	rng := rand.New(rand.NewPCG(2, 2))
	for _, objectives := range [][]problem.Objective{
		{{}}, {{}, {}}, {{Resolution: 0.1}, {Resolution: 0.2}}, {{}, {Resolution: 0.3}, {}}, {{}, {}, {}, {}},
	} {
		a := New(objectives, 1000)
		all := population.New(400, 1, len(objectives), 0)
		keys := make([][]float64, len(all))
		for k, m := range all {
			for i := range m.Outcome.F {
				m.Outcome.F[i] = float64(rng.IntN(50)) / 50
			}
			m.Feasible, m.Number = true, k
			keys[k] = make([]float64, len(objectives))
			a.box(keys[k], m.Outcome.F)
			a.Add(m)
		}
		want := len(dominance.Nondominated(keys))
		if len(a.Members) != want {
			t.Errorf("%v: %d members, want %d", objectives, len(a.Members), want)
		}
		for _, m := range a.Members {
			for _, k := range keys {
				if dominance.Dominates(k, keys[m.Number]) {
					t.Errorf("%v: a dominated member", objectives)
				}
			}
		}
	}
}

// What is kept for quick looks at all members agrees with the members, whatever came, went or was thinned in between.
func TestArchiveKnowsValuesAndBounds(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 5))
	for _, objectives := range [][]problem.Objective{{{}, {}}, {{Resolution: 0.1}, {Resolution: 0.2}}, {{}, {Resolution: 0.3}, {}}, {{}, {}, {}, {}}} {
		a := New(objectives, 1000)
		for k, m := range population.New(600, 1, len(objectives), 0) {
			for i := range m.Outcome.F {
				m.Outcome.F[i] = float64(rng.IntN(50))/50 + 1 - float64(k)/600
			}
			m.Feasible, m.Number = true, k
			a.Add(m)
			if k%97 == 96 {
				a.Thin(max(1, 3*len(a.Members)/4))
			}
			low, high := a.Bounds()
			wantLow, wantHigh := spacing.Bounds(population.Points(a.Members))
			if !slices.Equal(low, wantLow) || !slices.Equal(high, wantHigh) {
				t.Fatalf("%v: bounds %v and %v, want %v and %v", objectives, low, high, wantLow, wantHigh)
			}
			if want := slices.Concat(population.Points(a.Members)...); !slices.Equal(a.values, want) {
				t.Fatalf("%v: values %v, want %v", objectives, a.values, want)
			}
			if want := marks(a.Members); !slices.Equal(a.Marks, want) {
				t.Fatalf("%v: marks %v, want %v", objectives, a.Marks, want)
			}
		}
	}
}

// The shift by which a front has to be better for one of its points to dominate another, by hand: two points of a front
// from (0, 1) to (1, 0).
func TestNoveltyByHand(t *testing.T) {
	a := New(make([]problem.Objective, 2), 10)
	for _, f := range [][]float64{{0, 10}, {1, 0}} {
		a.Add(&population.Member{Outcome: problem.Outcome{F: f}, Feasible: true})
	}
	for _, c := range []struct {
		f    []float64
		want float64
	}{
		{[]float64{0, 10}, 0}, {[]float64{2, 5}, 0}, {[]float64{0.5, 5}, 0.5}, {[]float64{0.9, 1}, 0.1}, {[]float64{-0.25, 10}, 0.25},
	} {
		if got := a.Novelty(&population.Member{Outcome: problem.Outcome{F: c.f}, Feasible: true}, []float64{1, 10}); math.Abs(got-c.want) > 1e-15 {
			t.Errorf("%v: %g, want %g", c.f, got, c.want)
		}
	}
	if got := a.Novelty(&population.Member{Outcome: problem.Outcome{F: []float64{-1, -1}}}, []float64{1, 10}); got != 0 {
		t.Errorf("an infeasible candidate has %g", got)
	}
}
