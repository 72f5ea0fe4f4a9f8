package optimize

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"forkfront/optimize/dominance"
	"forkfront/optimize/spacing"
)

// Both comparisons must be strict orders: never better than itself, never better both ways,
// transitive. Small integers make ties and chains common.
func TestComparisonsAreStrictOrders(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 1))
	random := func() *member {
		m := newMembers(1, 1, 3, 0)[0]
		for i := range m.outcome.F {
			m.outcome.F[i] = float64(rng.IntN(3))
		}
		m.feasible = rng.IntN(3) > 0
		if !m.feasible {
			m.violation = float64(1 + rng.IntN(3))
		}
		return m
	}
	a := newArchive([]Objective{{Resolution: 2}, {}, {Resolution: 3}}, 10)
	chains := 0
	for name, less := range map[string]func(x, y *member) bool{
		"better":    better,
		"prefer":    a.preferred,
		"dominates": func(x, y *member) bool { return dominance.Dominates(x.outcome.F, y.outcome.F) },
	} {
		for range 20000 {
			x, y, z := random(), random(), random()
			if less(x, x) || less(x, y) && less(y, x) {
				t.Fatalf("%s: %v and %v", name, x.outcome.F, y.outcome.F)
			}
			if less(x, y) && less(y, z) {
				chains++
				if !less(x, z) {
					t.Fatalf("%s: %v, %v, %v", name, x.outcome.F, y.outcome.F, z.outcome.F)
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
	for _, objectives := range [][]Objective{
		{{}}, {{}, {}}, {{Resolution: 0.1}, {Resolution: 0.2}}, {{}, {Resolution: 0.3}, {}}, {{}, {}, {}, {}},
	} {
		a := newArchive(objectives, 1000)
		all := newMembers(400, 1, len(objectives), 0)
		keys := make([][]float64, len(all))
		for k, m := range all {
			for i := range m.outcome.F {
				m.outcome.F[i] = float64(rng.IntN(50)) / 50
			}
			m.feasible, m.number = true, k
			keys[k] = make([]float64, len(objectives))
			a.box(keys[k], m.outcome.F)
			a.add(m)
		}
		want := len(dominance.Nondominated(keys))
		if len(a.members) != want {
			t.Errorf("%v: %d members, want %d", objectives, len(a.members), want)
		}
		for _, m := range a.members {
			for _, k := range keys {
				if dominance.Dominates(k, keys[m.number]) {
					t.Errorf("%v: a dominated member", objectives)
				}
			}
		}
	}
}

// What is kept for quick looks at all members agrees with the members, whatever came, went or was thinned in between.
func TestArchiveKnowsValuesAndBounds(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 5))
	for _, objectives := range [][]Objective{{{}, {}}, {{Resolution: 0.1}, {Resolution: 0.2}}, {{}, {Resolution: 0.3}, {}}, {{}, {}, {}, {}}} {
		a := newArchive(objectives, 1000)
		for k, m := range newMembers(600, 1, len(objectives), 0) {
			for i := range m.outcome.F {
				m.outcome.F[i] = float64(rng.IntN(50))/50 + 1 - float64(k)/600
			}
			m.feasible, m.number = true, k
			a.add(m)
			if k%97 == 96 {
				a.thin(max(1, 3*len(a.members)/4))
			}
			low, high := a.bounds()
			wantLow, wantHigh := spacing.Bounds(points(a.members))
			if !slices.Equal(low, wantLow) || !slices.Equal(high, wantHigh) {
				t.Fatalf("%v: bounds %v and %v, want %v and %v", objectives, low, high, wantLow, wantHigh)
			}
			if want := slices.Concat(points(a.members)...); !slices.Equal(a.values, want) {
				t.Fatalf("%v: values %v, want %v", objectives, a.values, want)
			}
			if want := marks(a.members); !slices.Equal(a.marks, want) {
				t.Fatalf("%v: marks %v, want %v", objectives, a.marks, want)
			}
		}
	}
}

// The shift by which a front has to be better for one of its points to dominate another, by hand: two points of a front
// from (0, 1) to (1, 0).
func TestNoveltyByHand(t *testing.T) {
	a := newArchive(make([]Objective, 2), 10)
	for _, f := range [][]float64{{0, 10}, {1, 0}} {
		a.add(&member{outcome: Outcome{F: f}, feasible: true})
	}
	for _, c := range []struct {
		f    []float64
		want float64
	}{
		{[]float64{0, 10}, 0}, {[]float64{2, 5}, 0}, {[]float64{0.5, 5}, 0.5}, {[]float64{0.9, 1}, 0.1}, {[]float64{-0.25, 10}, 0.25},
	} {
		if got := a.novelty(&member{outcome: Outcome{F: c.f}, feasible: true}, []float64{1, 10}); math.Abs(got-c.want) > 1e-15 {
			t.Errorf("%v: %g, want %g", c.f, got, c.want)
		}
	}
	if got := a.novelty(&member{outcome: Outcome{F: []float64{-1, -1}}}, []float64{1, 10}); got != 0 {
		t.Errorf("an infeasible candidate has %g", got)
	}
}
