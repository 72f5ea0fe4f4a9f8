package optimize

import (
	"math"
	"slices"

	"forkfront/optimize/wire"
)

// table numbers the members that several lists share, so that after a resume they are
// shared again: the search tells members apart by which they are, not by their values.
type table struct {
	members []*member
	index   map[*member]int
}

func newTable(lists ...[]*member) *table {
	t := &table{members: distinct(lists...)}
	t.index = make(map[*member]int, len(t.members))
	for i, m := range t.members {
		t.index[m] = i
	}
	return t
}

// pack writes the members. The values in natural units are left out where they follow from
// the scaled ones, as they nearly always do.
func (t *table) pack(w *wire.Writer, s *space) {
	w.Int(len(t.members))
	x := make([]float64, len(s.variables))
	for _, m := range t.members {
		s.natural(x, m.u)
		follows := slices.Equal(x, m.x)
		w.Int(m.number)
		w.Int(m.operator + 1)
		w.Bool(m.polished)
		w.Bool(follows)
		w.Float(m.violation)
		w.Floats(m.u)
		if !follows {
			w.Floats(m.x)
		}
		w.Floats(m.outcome.F)
		w.Floats(m.outcome.G)
		if m.late != nil {
			m.late.pack(w)
		}
	}
}

// unpackTable reads what pack wrote: members as blank makes them, of n objectives and constraints together, with numbers below most and
// operators below a count. What a problem tells of kinds is asked of it again.
func unpackTable(u *wire.Reader, blank func(n int) []*member, s *space, values, most, operators int, kinds Niched) *table {
	t := &table{members: blank(u.Count(8 * (5 + len(s.variables) + values)))}
	for _, m := range t.members {
		m.number = u.Int(0, most)
		m.operator = u.Int(0, operators) - 1
		m.polished = u.Bool()
		follows := u.Bool()
		m.violation = u.Finite()
		u.Floats(m.u, false)
		if follows {
			s.natural(m.x, m.u)
		} else {
			u.Floats(m.x, false)
		}
		u.Floats(m.outcome.F, true)
		u.Floats(m.outcome.G, true)
		if m.late != nil {
			m.late.unpack(u)
		}
		m.judge()
		if !within(s, m) {
			u.Reject()
		}
		if u.Failed() {
			return t
		}
		if kinds != nil {
			m.setKind(kinds, s)
		}
	}
	return t
}

// within reports whether a member lies within the space.
func within(s *space, m *member) bool {
	for i := range s.variables {
		v := &s.variables[i]
		if m.u[i] < 0 || m.u[i] > 1 || m.x[i] < v.Low || m.x[i] > v.High || v.Levels > 0 && m.x[i] != math.Round(m.x[i]) {
			return false
		}
	}
	return true
}

func (t *table) packList(w *wire.Writer, list []*member) {
	w.Int(len(list))
	for _, m := range list {
		w.Int(t.index[m])
	}
}

func (t *table) unpackList(u *wire.Reader) []*member {
	n := u.Count(8)
	if n == 0 {
		return nil
	}
	list := make([]*member, 0, n)
	for range n {
		k := u.Int(0, len(t.members)-1)
		if u.Failed() {
			return nil
		}
		list = append(list, t.members[k])
	}
	return list
}
