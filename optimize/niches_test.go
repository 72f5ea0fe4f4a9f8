package optimize_test

import (
	"math"
	"slices"
	"testing"

	"forkfront/optimize"
)

// ridge has two halves with a wall between them. Left of it every point is allowed; right of it only a narrow
// valley along y = 0.7 is, and ripples beside it mislead slopes, but everything there is better by 1 in both objectives.
type ridge struct{}

func (ridge) Variables() []optimize.Variable {
	return []optimize.Variable{{Name: "half", High: 1}, {Name: "trade", High: 1}, {Name: "y", High: 1}, {Name: "z", High: 1}}
}
func (ridge) Objectives() []optimize.Objective { return make([]optimize.Objective, 2) }
func (ridge) Constraints() []string            { return []string{"off the wall", "in the valley"} }
func (ridge) Evaluate(dst *optimize.Outcome, x []float64) {
	worse, off := 1.0, -1.0
	if x[0] > 0.5 {
		worse = 0
		y, z := math.Abs(x[2]-0.7), math.Abs(x[3]-0.2)
		off = y + z + 0.05*(math.Abs(math.Sin(60*y))+math.Abs(math.Sin(60*z))) - 0.004
	}
	dst.F[0], dst.F[1] = x[1]+worse, 1-x[1]+worse
	dst.G[0], dst.G[1] = 0.2-max(x[0]-0.5, 0.5-x[0]), off
}

// halves is the ridge with its halves told.
type halves struct{ ridge }

func (halves) Niche(x []float64) uint64 {
	if x[0] > 0.5 {
		return 1
	}
	return 0
}

// better counts the seeds whose front is right of the wall.
func better(t *testing.T, p optimize.Problem) (n int) {
	for seed := range uint64(10) {
		r := search(t, p, optimize.Settings{Seed: seed, Evaluations: 4000, Population: 40, FrontSize: 30})
		if slices.ContainsFunc(r.Front, func(c optimize.Candidate) bool { return c.X[0] > 0.5 }) {
			n++
		}
	}
	return n
}

// By construction the front is right of the wall. The first feasible members are left of it and crowd out all others
// unless those of the other half are kept until they have reached the valley.
func TestNichesAreProtectedWhileYoung(t *testing.T) {
	if told, not := better(t, halves{}), better(t, ridge{}); told < 9 || not > 3 {
		t.Errorf("of 10 seeds %d find the front with niches and %d without; it should be 9 at least and 3 at most", told, not)
	}
}
