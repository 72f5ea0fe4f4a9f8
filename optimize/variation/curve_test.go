package variation

import (
	"testing"

	"forkfront/optimize/population"
	"forkfront/optimize/problem"
	"forkfront/optimize/random"
)

// curveBreeder has an archive along f2 = 1 − f1 with x = (f1, 1/2), without members between 0.4 and 0.6.
func curveBreeder() (*breeder, []*population.Member) {
	s := &problem.Space{Variables: []problem.Variable{{High: 1}, {High: 1}}}
	b := newBreeder(s, 2, random.New(1, random.Variation))
	var archive []*population.Member
	for i := range 101 {
		t := float64(i) / 100
		if t > 0.4 && t < 0.6 {
			continue
		}
		m := population.New(1, 2, 2, 0)[0]
		m.Number = i
		m.U[0], m.U[1] = t, 0.5
		m.Outcome.F[0], m.Outcome.F[1] = t, 1-t
		archive = append(archive, m)
	}
	return &b, archive
}

// On a straight set the secant is the set: children continue it exactly, and where there is one wide gap
// among many narrow ones a good part of them goes there.
func TestPredictionsGoIntoTheWidestGap(t *testing.T) {
	b, archive := curveBreeder()
	child := population.New(1, 2, 2, 0)[0]
	inside := 0
	for range 1000 {
		b.predict(child, archive)
		if child.U[1] != 0.5 {
			t.Fatalf("a child at %v left the line through the secant", child.U)
		}
		if child.U[0] > 0.4 && child.U[0] < 0.6 {
			inside++
		}
	}
	// The gap is among 50 of 81 pairs in 1 − (80/81)^50 = 0.46 of the cases. A step of up to 2 × 0.30 is shorter than
	// the gap in most of these; without a choice of the pair one child in 81 would have come from an edge of it.
	if inside < 250 {
		t.Errorf("%d of 1000 children are within the gap", inside)
	}
}

// Neighbours are the same as those found by sorting all distances; on a line with equal steps those of a member are
// the ten on either side.
func TestNearestParentsAreNearest(t *testing.T) {
	b, archive := curveBreeder()
	var near [neighbourhood]*population.Member
	n := b.nearest(&near, archive[20], &matingPool{parents: archive})
	if n != neighbourhood {
		t.Fatalf("%d neighbours, want %d", n, neighbourhood)
	}
	for i, m := range near {
		if d := m.Number - 20; d == 0 || d < -10 || d > 10 {
			t.Errorf("neighbour %d is %d places away", i, d)
		}
	}
	if n := b.nearest(&near, archive[0], &matingPool{parents: archive[:3]}); n != 2 {
		t.Errorf("%d neighbours among three members, want 2", n)
	}
}

// A correction keeps most variables, and the three operators allocate nothing.
func TestCurveOperatorsDoNotAllocate(t *testing.T) {
	b, archive := curveBreeder()
	child, pool := population.New(1, 2, 2, 0)[0], &matingPool{parents: archive}
	if n := testing.AllocsPerRun(200, func() {
		b.predict(child, archive)
		b.correct(child, archive)
		b.wholeAmongNeighbours(child, archive[3], pool)
	}); n != 0 {
		t.Errorf("%g allocations", n)
	}
}
