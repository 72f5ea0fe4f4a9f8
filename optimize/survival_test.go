package optimize

import "testing"

// The best members in each objective stay although others dominate them, and no longer at the end of the search.
func TestEndsAreKept(t *testing.T) {
	s := newSelection(selectionSettings{objectives: 2, size: 100, keepEnds: true})
	members := newMembers(40, 2, 2, 0)
	for i, m := range members {
		m.number, m.feasible = i, true
		m.outcome.F[0], m.outcome.F[1] = float64(i), float64(100+i) // the first one dominates all others
	}
	kept, rest := s.ends(nil, members, 40, stand{})
	if len(kept) != 4 || len(rest) != 36 { // a tenth, half for each objective
		t.Fatalf("%d kept and %d left, want 4 and 36", len(kept), len(rest))
	}
	for i, m := range kept {
		if m.number != i {
			t.Errorf("kept number %d, want %d", m.number, i)
		}
	}
	if kept, rest = s.ends(nil, members, 40, stand{done: 0.7}); len(kept) != 0 || len(rest) != 40 {
		t.Errorf("at the end %d kept and %d left, want none and all", len(kept), len(rest))
	}
}
