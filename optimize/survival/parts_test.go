package survival

import (
	"slices"
	"testing"

	"forkfront/optimize/population"
	"forkfront/optimize/problem"
)

// oneNiche is all that a selection asks of a problem.
type oneNiche struct{ problem.Problem }

func (oneNiche) Niche([]float64) uint64 { return 7 }

// sizesKept are the sizes of those that are kept for the sake of their niches in a cut of twelve members, all of size 0 better than all of size 1, and so on, to six.
func sizesKept(sizes, evaluations int) (kept []float64) {
	variables := &problem.Space{Variables: []problem.Variable{{Name: "size", High: float64(sizes - 1), Levels: sizes, Categorical: true}, {Name: "way", High: 1}}}
	members := population.New(12, 2, 2, 0)
	for i, m := range members {
		m.X[0], m.X[1] = float64(i/4), float64(i%4)/3
		m.Feasible = true
		m.Outcome.F[0], m.Outcome.F[1] = m.X[1]+m.X[0], 1-m.X[1]+m.X[0]
		m.SetKind(oneNiche{}, variables)
	}
	s := New(Settings{Objectives: 2, Size: 12, Niched: true})
	reserved, _ := s.reserve(members, 6, Moment{Divided: population.Divides(variables, float64(evaluations))})
	for _, m := range reserved {
		kept = append(kept, m.X[0])
	}
	slices.Sort(kept)
	return kept
}

// In a long search every size has members of its own at first, though all of one size dominate those of the others; in a short one,
// and where there are many sizes, none has.
func TestSizesAreKeptInALongSearch(t *testing.T) {
	for _, c := range []struct {
		sizes, evaluations int
		want               []float64
	}{
		{3, 200_000, []float64{0, 1, 2}},
		{3, 199_999, nil},
		{population.MostParts, 200_000, []float64{0, 1, 2}},
		{population.MostParts + 1, 200_000, nil},
	} {
		if kept := sizesKept(c.sizes, c.evaluations); !slices.Equal(kept, c.want) {
			t.Errorf("%d sizes, %d evaluations: sizes %v are kept, want %v", c.sizes, c.evaluations, kept, c.want)
		}
	}
}
