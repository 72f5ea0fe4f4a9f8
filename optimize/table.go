package optimize

import "math"

// table numbers the members that several lists share, so that after a resume they are
// shared again: the search tells members apart by which they are, not by their values.
type table struct {
	members []*member
	index   map[*member]int
}

func newTable(lists ...[]*member) *table {
	t := &table{index: map[*member]int{}}
	for _, list := range lists {
		for _, m := range list {
			if _, known := t.index[m]; !known {
				t.index[m] = len(t.members)
				t.members = append(t.members, m)
			}
		}
	}
	return t
}

// pack writes the members. The values in natural units are left out where they follow from
// the scaled ones, as they nearly always do.
func (t *table) pack(w *packer, s *space) {
	w.int(len(t.members))
	x := make([]float64, len(s.variables))
	for _, m := range t.members {
		s.natural(x, m.u)
		follows := same(x, m.x)
		w.int(m.number)
		w.int(m.by + 1)
		w.bool(m.polished)
		w.bool(follows)
		w.float(m.violation)
		w.floats(m.u)
		if !follows {
			w.floats(m.x)
		}
		w.floats(m.out.F)
		w.floats(m.out.G)
	}
}

func (e *engine) unpackTable(u *unpacker) *table {
	each := 8 * (5 + len(e.space.variables) + len(e.objectives) + e.constraint)
	t := &table{members: e.fresh(u.count(each))}
	for _, m := range t.members {
		m.number = u.int(0, e.number)
		m.by = u.int(0, operators) - 1
		m.polished = u.bool()
		follows := u.bool()
		m.violation = u.float()
		u.floats(m.u, false)
		if follows {
			e.space.natural(m.x, m.u)
		} else {
			u.floats(m.x, false)
		}
		u.floats(m.out.F, true)
		u.floats(m.out.G, true)
		m.feasible = m.out.Feasible()
		if math.IsNaN(m.violation) || !e.space.holds(m) {
			u.bad = true
		}
		if u.bad {
			return t
		}
	}
	return t
}

// holds reports whether a member lies within the space.
func (s *space) holds(m *member) bool {
	for i := range s.variables {
		v := &s.variables[i]
		if m.u[i] < 0 || m.u[i] > 1 || m.x[i] < v.Low || m.x[i] > v.High || v.Levels > 0 && m.x[i] != math.Round(m.x[i]) {
			return false
		}
	}
	return true
}

func (t *table) packList(w *packer, list []*member) {
	w.int(len(list))
	for _, m := range list {
		w.int(t.index[m])
	}
}

func (t *table) unpackList(u *unpacker) []*member {
	n := u.count(8)
	if n == 0 {
		return nil
	}
	list := make([]*member, 0, n)
	for range n {
		k := u.int(0, len(t.members)-1)
		if u.bad {
			return nil
		}
		list = append(list, t.members[k])
	}
	return list
}

// fill puts back the members of an archive in their order.
func (a *archive) fill(members []*member, u *unpacker) {
	a.members, a.keys = members, make([][]float64, len(members))
	for i, m := range members {
		if !m.feasible {
			u.bad = true
			return
		}
		a.keys[i] = make([]float64, len(a.objectives))
		a.box(a.keys[i], m.out.F)
	}
}
