package optimize

import (
	"slices"
	"testing"
)

// oneNiche is all that a selection asks of a problem.
type oneNiche struct{ Problem }

func (oneNiche) Niche([]float64) uint64 { return 7 }

// sizesKept are the sizes of those that are kept for the sake of their niches in a cut of twelve members, all of size 0 better than all of size 1, and so on, to six.
func sizesKept(sizes, evaluations int) (kept []float64) {
	variables := &space{[]Variable{{Name: "size", High: float64(sizes - 1), Levels: sizes, Categorical: true}, {Name: "way", High: 1}}}
	members := newMembers(12, 2, 2, 0)
	for i, m := range members {
		m.x[0], m.x[1] = float64(i/4), float64(i%4)/3
		m.feasible = true
		m.outcome.F[0], m.outcome.F[1] = m.x[1]+m.x[0], 1-m.x[1]+m.x[0]
		m.setKind(oneNiche{}, variables)
	}
	s := newSelection(selectionSettings{objectives: 2, size: 12, niched: true})
	reserved, _ := s.reserve(members, 6, stand{divided: divides(variables, float64(evaluations))})
	for _, m := range reserved {
		kept = append(kept, m.x[0])
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
		{partsMost, 200_000, []float64{0, 1, 2}},
		{partsMost + 1, 200_000, nil},
	} {
		if kept := sizesKept(c.sizes, c.evaluations); !slices.Equal(kept, c.want) {
			t.Errorf("%d sizes, %d evaluations: sizes %v are kept, want %v", c.sizes, c.evaluations, kept, c.want)
		}
	}
}
