package survival

import "forkfront/optimize/population"

// Compete settles each child against its own parent: the better one of the two stays, both
// when neither is. It keeps a converging population from collapsing onto one point. Children know their parents no longer
// then, or every ancestor would stay in memory.
func Compete(parents, children []*population.Member) []*population.Member {
	out := make([]*population.Member, 0, len(parents)+len(children))
	beaten := map[*population.Member]bool{}
	for _, c := range children {
		if c.Rival != nil && population.Better(c, c.Rival) {
			beaten[c.Rival] = true
		}
	}
	for _, p := range parents {
		if !beaten[p] {
			out = append(out, p)
		}
	}
	for _, c := range children {
		if c.Rival == nil || !population.Better(c.Rival, c) {
			out = append(out, c)
		}
	}
	for _, c := range children {
		c.Rival = nil
	}
	return out
}
