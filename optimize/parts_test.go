package optimize

import (
	"slices"
	"testing"
)

// sized is a problem with one niche and a size to choose.
type sized struct{ sizes int }

func (s sized) Variables() []Variable {
	return []Variable{{Name: "size", High: float64(s.sizes - 1), Levels: s.sizes, Categorical: true}, {Name: "way", High: 1}}
}
func (sized) Objectives() []Objective { return make([]Objective, 2) }
func (sized) Constraints() []string   { return nil }
func (sized) Evaluate(dst *Outcome, x []float64) {
	dst.F[0], dst.F[1] = x[1]+x[0], 1-x[1]+x[0]
}
func (sized) Niche([]float64) uint64 { return 7 }

// sizesKept are the sizes of those that are kept for the sake of their niches in a cut of twelve members, all of size 0 better than all of size 1, and so on, to six.
func sizesKept(sizes, evaluations int) (kept []float64) {
	p := sized{sizes}
	e := &engine{problem: p, settings: Settings{Evaluations: evaluations}, space: space{p.Variables()}, objectives: p.Objectives()}
	members := newMembers(12, 2, 2, 0)
	for i, m := range members {
		m.x[0], m.x[1] = float64(i/4), float64(i%4)/3
		m.feasible = true
		p.Evaluate(&m.outcome, m.x)
		e.setKind(m, p)
	}
	reserved, _ := e.reserve(members, 6)
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
		{3, partsFrom, []float64{0, 1, 2}},
		{3, partsFrom - 1, nil},
		{partsMost, partsFrom, []float64{0, 1, 2}},
		{partsMost + 1, partsFrom, nil},
	} {
		if kept := sizesKept(c.sizes, c.evaluations); !slices.Equal(kept, c.want) {
			t.Errorf("%d sizes, %d evaluations: sizes %v are kept, want %v", c.sizes, c.evaluations, kept, c.want)
		}
	}
}
