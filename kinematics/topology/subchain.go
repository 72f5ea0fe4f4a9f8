package topology

import (
	"cmp"
	"slices"
)

// spans gives, for each set of two or more bodies of a chain, the smallest part with one degree of freedom that contains
// them. It is unique: 3 (m − 1) − 2 j is submodular over sets of bodies and at least 1 for two bodies or more, so where
// two parts that have 1 share two bodies, what they share has 1 too.
type spans []bodies

func (g *graph) spans() spans {
	var moving []bodies
	for s := bodies(0); s < 1<<g.n; s++ {
		if s.count() > 1 && g.freedom(s) == 1 {
			moving = append(moving, s)
		}
	}
	slices.SortStableFunc(moving, func(a, b bodies) int { return cmp.Compare(a.count(), b.count()) })
	all := make(spans, 1<<g.n)
	for s := range all {
		for _, part := range moving {
			if bodies(s)&^part == 0 {
				all[s] = part
				break
			}
		}
	}
	return all
}
