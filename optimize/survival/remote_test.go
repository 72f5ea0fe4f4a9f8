package survival

import (
	"cmp"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"forkfront/optimize/archive"
	"forkfront/optimize/population"
	"forkfront/optimize/problem"
	"forkfront/optimize/spacing"
)

// Thirty feasible members and nine infeasible ones lie in one basin, and one that violates more than any of them in
// another: it survives, though the feasible ones are more than enough, and no longer at the end of the search.
func TestBestOfAFarBasinIsKept(t *testing.T) {
	const far = 39
	s := New(Settings{Objectives: 2, Constraints: 1, Size: 100, KeepEnds: true})
	members := population.New(40, 2, 2, 1)
	for i, m := range members {
		m.Number, m.Feasible = i, i < 30
		m.U[0] = 0.1 + 0.001*float64(i)
		m.Outcome.F[0], m.Outcome.F[1] = float64(i), float64(-i)
		if !m.Feasible {
			m.Violation = float64(i)
		}
	}
	members[far].U[0] = 0.9
	isKept := func(at Moment) bool {
		for _, m := range s.Survive(members, 20, at) {
			if m.Number == far {
				return true
			}
		}
		return false
	}
	at := Moment{Done: 0.1, Archive: archive.New(make([]problem.Objective, 2), 10)}
	if kept, _ := s.remote(nil, members, 20, at); len(kept) != 0 {
		t.Errorf("%d kept before anything feasible is known", len(kept))
	}
	at.Archive.Add(members[0])
	kept, rest := s.remote(nil, members, 20, at)
	if len(kept) != 3 || kept[0].Number != far || len(rest) != 37 { // a fifth, less an eighth of it
		t.Errorf("%d kept, number %d first, and %d left; want 3, number %d first, and 37", len(kept), kept[0].Number, len(rest), far)
	}
	if !isKept(at) {
		t.Errorf("number %d does not survive", far)
	}
	if at.Done = 0.8; isKept(at) {
		t.Errorf("number %d survives at the end of the search", far)
	}
}

// Against the definition: all members but those of the first layer and those kept, by the distance from all layers before, the
// farthest first.
func TestRemoteMembersAgainstSorting(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 1))
	for range 50 {
		layers, kept := make([][]*population.Member, 6), map[*population.Member]bool{}
		var want, better []*population.Member
		gap := map[*population.Member]float64{}
		for k := range layers {
			layers[k] = population.New(1+rng.IntN(9), 2, 2, 1)
			for _, m := range layers[k] {
				m.Feasible = true
				m.U[0], m.U[1] = float64(rng.IntN(9))/8, float64(rng.IntN(9))/8 // few values, so that some gaps are equal
				if kept[m] = rng.IntN(4) == 0; k == 0 || kept[m] {
					continue
				}
				gap[m] = math.Inf(1)
				for _, b := range better {
					gap[m] = min(gap[m], spacing.Distance2(m.U, b.U))
				}
				want = append(want, m)
			}
			better = append(better, layers[k]...)
		}
		slices.SortStableFunc(want, func(a, b *population.Member) int { return cmp.Compare(gap[b], gap[a]) })
		count := 1 + rng.IntN(12)
		if got := new(remotest).find(layers, kept, count); !slices.Equal(got, want[:min(count, len(want))]) {
			t.Fatalf("%d of %d members are not the remotest", len(got), len(want))
		}
	}
}
