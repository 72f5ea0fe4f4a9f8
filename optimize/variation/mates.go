package variation

import (
	randv2 "math/rand/v2"
	"slices"

	"forkfront/optimize/population"
)

// nicheMating is the chance that a child is made from members of its parent's niche only.
const nicheMating = 0.9

// mates gives the stock for a child of a target: that of its kind as a rule, all of it else or where there
// are too few. Its memory is kept from one generation to the next.
type mates struct {
	all     matingPool
	divided bool
	keys    []uint64     // of the kinds of its parents; none where all are of one
	within  []matingPool // what there is of each
}

// prepare takes in the stock of a generation.
func (t *mates) prepare(s *Stock, niched bool) {
	t.all.set(s.Parents, s.Archive, s.Infeasible)
	t.keys = t.keys[:0]
	if !niched {
		return
	}
	t.divided = s.Divided
	for _, m := range t.all.parents {
		if key := m.Kind.Key(t.divided); !slices.Contains(t.keys, key) {
			t.keys = append(t.keys, key)
		}
	}
	if len(t.keys) < 2 {
		t.keys = t.keys[:0]
		return
	}
	t.divide(s.Marks)
}

// divide shares out all members among the kinds, in their order. Of members of the archive it looks at marks only.
func (t *mates) divide(archive []population.Mark) {
	for len(t.within) < len(t.keys) {
		t.within = append(t.within, matingPool{})
	}
	for k := range t.keys {
		s := &t.within[k]
		s.set(s.parents[:0], s.archive[:0], s.infeasible[:0])
	}
	for _, m := range t.all.parents {
		s := t.of(m.Kind)
		s.parents = append(s.parents, m)
	}
	for i := range archive {
		if s := t.of(archive[i].Kind); s != nil {
			s.archive = append(s.archive, t.all.archive[i])
		}
	}
	for _, m := range t.all.infeasible {
		if s := t.of(m.Kind); s != nil {
			s.infeasible = append(s.infeasible, m)
		}
	}
}

// of is the stock of a kind; nil where no parent is of it.
func (t *mates) of(k population.Kind) *matingPool {
	if i := slices.Index(t.keys, k.Key(t.divided)); i >= 0 {
		return &t.within[i]
	}
	return nil
}

func (t *mates) choose(rng *randv2.Rand, target *population.Member, operator int) *matingPool {
	if len(t.keys) == 0 || rng.Float64() >= nicheMating {
		return &t.all
	}
	s := t.of(target.Kind)
	if !s.serves(operator) {
		return &t.all
	}
	return s
}
