package population

import (
	"math"
	"slices"

	"forkfront/optimize/problem"
	"forkfront/optimize/wire"
)

// Table numbers the members that several lists share, so that after a resume they are
// shared again: the search tells members apart by which they are, not by their values.
type Table struct {
	members []*Member
	index   map[*Member]int
}

// NewTable has the members of some lists, each once, in the order in which they come first.
func NewTable(lists ...[]*Member) *Table {
	t := &Table{index: map[*Member]int{}}
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

// Members are those of the table, which remain its own.
func (t *Table) Members() []*Member { return t.members }

// Pack writes the members. The values in natural units are left out where they follow from
// the scaled ones, as they nearly always do.
func (t *Table) Pack(w *wire.Writer, s *problem.Space) {
	w.Int(len(t.members))
	x := make([]float64, len(s.Variables))
	for _, m := range t.members {
		s.Natural(x, m.U)
		follows := slices.Equal(x, m.X)
		w.Int(m.Number)
		w.Int(m.Operator + 1)
		w.Bool(m.Polished)
		w.Bool(follows)
		w.Float(m.Violation)
		w.Floats(m.U)
		if !follows {
			w.Floats(m.X)
		}
		w.Floats(m.Outcome.F)
		w.Floats(m.Outcome.G)
		if m.Late != nil {
			m.Late.pack(w)
		}
	}
}

// Expected is what the members of a table that is read back have to be like.
type Expected struct {
	Space     *problem.Space
	Values    int                   // objectives and constraints together
	Numbers   int                   // the largest number allowed
	Operators int                   // how many there are
	Niched    problem.Niched        // tells their kinds; nil: the problem does not
	Blank     func(n int) []*Member // makes members of the right size
}

// UnpackTable reads what Pack wrote. Where that does not fit the reader has failed.
func UnpackTable(u *wire.Reader, x *Expected) *Table {
	t := &Table{members: x.Blank(u.Count(8 * (5 + len(x.Space.Variables) + x.Values)))}
	for _, m := range t.members {
		m.Number = u.Int(0, x.Numbers)
		m.Operator = u.Int(0, x.Operators) - 1
		m.Polished = u.Bool()
		follows := u.Bool()
		m.Violation = u.Finite()
		u.Floats(m.U, false)
		if follows {
			x.Space.Natural(m.X, m.U)
		} else {
			u.Floats(m.X, false)
		}
		u.Floats(m.Outcome.F, true)
		u.Floats(m.Outcome.G, true)
		if m.Late != nil {
			m.Late.unpack(u)
		}
		m.judge()
		if !within(x.Space, m) {
			u.Reject()
		}
		if u.Failed() {
			return t
		}
		if x.Niched != nil {
			m.SetKind(x.Niched, x.Space)
		}
	}
	return t
}

// within reports whether a member lies within the space.
func within(s *problem.Space, m *Member) bool {
	for i := range s.Variables {
		v := &s.Variables[i]
		if m.U[i] < 0 || m.U[i] > 1 || m.X[i] < v.Low || m.X[i] > v.High || v.Levels > 0 && m.X[i] != math.Round(m.X[i]) {
			return false
		}
	}
	return true
}

// PackList writes which members of the table a list has, in its order.
func (t *Table) PackList(w *wire.Writer, list []*Member) {
	w.Int(len(list))
	for _, m := range list {
		w.Int(t.index[m])
	}
}

// UnpackList reads what PackList wrote.
func (t *Table) UnpackList(u *wire.Reader) []*Member {
	n := u.Count(8)
	if n == 0 {
		return nil
	}
	list := make([]*Member, 0, n)
	for range n {
		k := u.Int(0, len(t.members)-1)
		if u.Failed() {
			return nil
		}
		list = append(list, t.members[k])
	}
	return list
}
