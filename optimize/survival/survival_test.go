package survival

import (
	"testing"

	"forkfront/optimize/population"
)

// The best members in each objective stay although others dominate them, and no longer at the end of the search.
func TestEndsAreKept(t *testing.T) {
	s := New(Settings{Objectives: 2, Size: 100, KeepEnds: true})
	members := population.New(40, 2, 2, 0)
	for i, m := range members {
		m.Number, m.Feasible = i, true
		m.Outcome.F[0], m.Outcome.F[1] = float64(i), float64(100+i) // the first one dominates all others
	}
	kept, rest := s.ends(nil, members, 40, Moment{})
	if len(kept) != 4 || len(rest) != 36 { // a tenth, half for each objective
		t.Fatalf("%d kept and %d left, want 4 and 36", len(kept), len(rest))
	}
	for i, m := range kept {
		if m.Number != i {
			t.Errorf("kept number %d, want %d", m.Number, i)
		}
	}
	if kept, rest = s.ends(nil, members, 40, Moment{Done: 0.7}); len(kept) != 0 || len(rest) != 40 {
		t.Errorf("at the end %d kept and %d left, want none and all", len(kept), len(rest))
	}
}
