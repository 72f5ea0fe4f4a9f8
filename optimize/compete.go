package optimize

// compete settles each child against its own parent: the better one of the two stays, both
// when neither is. It keeps a converging population from collapsing onto one point. Children know their parents no longer
// then, or every ancestor would stay in memory.
func compete(parents, children []*member) []*member {
	out := make([]*member, 0, len(parents)+len(children))
	beaten := map[*member]bool{}
	for _, c := range children {
		if c.rival != nil && better(c, c.rival) {
			beaten[c.rival] = true
		}
	}
	for _, p := range parents {
		if !beaten[p] {
			out = append(out, p)
		}
	}
	for _, c := range children {
		if c.rival == nil || !better(c.rival, c) {
			out = append(out, c)
		}
	}
	for _, c := range children {
		c.rival = nil
	}
	return out
}
