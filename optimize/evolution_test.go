package optimize_test

import (
	"math"
	"math/rand/v2"
	"reflect"
	"testing"
	"time"

	"forkfront/optimize"
	"forkfront/optimize/testbed"
)

// The least values that are known (see the testbed), with all evaluations and no more. For the semicircle a general
// differential evolution (best1bin, 90 members) has a median of 4.85 over 11 seeds.
func TestOneObjectiveReachesKnownOptima(t *testing.T) {
	reached := 0
	for _, c := range testbed.Singles() {
		for seed := range uint64(2) {
			r := search(t, c.Problem, optimize.Settings{Seed: seed + 1, Evaluations: c.Evaluations})
			if len(r.Front) != 1 || r.Evaluations != c.Evaluations || !r.Front[0].Feasible() {
				t.Fatalf("%s: %d candidates after %d evaluations", c.Name, len(r.Front), r.Evaluations)
			}
			best := r.Front[0].F[0]
			t.Logf("%s: %.10g, known %.10g", c.Name, best, c.Best)
			if best < c.Best-c.Close {
				t.Errorf("%s: %.10g is less than the least value known, %.10g", c.Name, best, c.Best)
			}
			if best <= c.Best+c.Close {
				reached++
			}
		}
	}
	if reached < 13 {
		t.Errorf("%d of 14 searches reach the least value known", reached)
	}
}

// With exact derivatives the semicircle's best four-bar is found; they are charged, and their share is not exceeded.
func TestOneObjectiveWithDerivatives(t *testing.T) {
	for seed := range uint64(3) {
		r := search(t, testbed.Semicircle(), optimize.Settings{Seed: seed + 1, Evaluations: 50000, GradientShare: 0.2})
		if r.Front[0].F[0] > 2.5805 || r.GradientEvaluations > 10000 || r.GradientEvaluations < 5000 {
			t.Errorf("seed %d: %g with %d evaluations by gradients", seed+1, r.Front[0].F[0], r.GradientEvaluations)
		}
	}
}

// counted is a knapsack with a category: 12 levels each of two ordered variables, a kind of which one suits, and a
// continuous variable that must lie between two bounds.
type counted struct{}

func (counted) Variables() []optimize.Variable {
	return []optimize.Variable{
		{High: 11, Levels: 12}, {High: 11, Levels: 12}, {High: 7, Levels: 8, Categorical: true}, {Low: -1, High: 3}, {Levels: 1},
	}
}
func (counted) Objectives() []optimize.Objective { return []optimize.Objective{{Name: "cost"}} }
func (counted) Constraints() []string            { return []string{"enough", "not too far"} }
func (counted) Evaluate(dst *optimize.Outcome, x []float64) {
	weight := [...]float64{9, 4, 7, 6, 8, 3, 5, 2}[int(x[2])]
	dst.F[0] = weight + 2*x[0] + 3*x[1] + (x[3]-2)*(x[3]-2)
	dst.G[0] = (20 - 3*x[0] - 5*x[1]) / 20
	dst.G[1] = x[3] - 1
	if x[0] == 11 {
		dst.F[0] = math.NaN()
	}
}

// least is the best value of counted, by trying all levels.
func (c counted) least() float64 {
	best := math.Inf(1)
	for a := range 12 {
		for b := range 12 {
			for kind := range 8 {
				o := optimize.Outcome{F: make([]float64, 1), G: make([]float64, 2)}
				c.Evaluate(&o, []float64{float64(a), float64(b), float64(kind), 1, 0})
				if o.Feasible() && o.F[0] < best {
					best = o.F[0]
				}
			}
		}
	}
	return best
}

func TestOneObjectiveWithDiscreteVariables(t *testing.T) {
	want, reached := counted{}.least(), 0
	for seed := range uint64(20) {
		r := search(t, counted{}, optimize.Settings{Seed: seed, Evaluations: 3000})
		switch best := r.Front[0].F[0]; {
		case best < want:
			t.Errorf("seed %d: %g is less than the least, %g", seed, best, want)
		case best < want+1e-3:
			reached++
		}
	}
	if reached < 17 {
		t.Errorf("%d of 20 searches reach %g", reached, want)
	}
}

func TestOneObjectiveIsTheSameWhateverTheWorkers(t *testing.T) {
	for _, p := range []optimize.Problem{testbed.Semicircle(), testbed.G10(), counted{}} {
		for _, share := range []float64{0, 0.3} {
			s := optimize.Settings{Seed: 7, Evaluations: 4001, Workers: 1, GradientShare: share}
			one := search(t, p, s)
			s.Workers = 3
			if three := search(t, p, s); !reflect.DeepEqual(one, three) {
				t.Errorf("%T, gradient share %g: results differ between 1 and 3 workers", p, share)
			}
			if one.Evaluations != 4001 {
				t.Errorf("%T, gradient share %g: %d evaluations", p, share, one.Evaluations)
			}
		}
	}
}

// Without a budget the search restarts with ever larger populations and ends when nothing is gained any more, or by
// the clock.
func TestOneObjectiveWithoutABudget(t *testing.T) {
	s := optimize.Settings{Seed: 2, Evaluations: optimize.Unlimited, StagnationGenerations: 300}
	r := search(t, testbed.Rastrigin(4), s)
	if r.Stop != "stagnation" || !(r.Front[0].F[0] < 1e-6) {
		t.Errorf("stopped by %q with %g", r.Stop, r.Front[0].F[0])
	}
	s.StagnationGenerations, s.MaxWall = 0, 200*time.Millisecond
	if r := search(t, testbed.G06(), s); r.Stop != "wall time" || len(r.Front) != 1 {
		t.Errorf("stopped by %q with %d candidates", r.Stop, len(r.Front))
	}
}

// A start is evaluated first, and what it is worth is never lost.
func TestOneObjectiveKeepsAGivenStart(t *testing.T) {
	x := make([]float64, 10) // Ackley's optimum
	r := search(t, testbed.Ackley(10), optimize.Settings{Seed: 1, Evaluations: 300, Start: [][]float64{x}})
	if r.Front[0].F[0] != 0 || r.Front[0].Number != 0 {
		t.Errorf("got %v", r.Front[0])
	}
}

// Very small budgets and populations are spent to the last evaluation.
func TestOneObjectiveWithFewEvaluations(t *testing.T) {
	rng := rand.New(rand.NewPCG(4, 4))
	for range 60 {
		s := optimize.Settings{
			Seed: rng.Uint64() >> 12, Evaluations: 1 + rng.IntN(300), Population: rng.IntN(30), GradientShare: float64(rng.IntN(2)) * 0.5,
		}
		for _, p := range []optimize.Problem{testbed.G06(), counted{}, barredOne{}} {
			if r := search(t, p, s); r.Evaluations != s.Evaluations {
				t.Fatalf("%T: %d evaluations of %d", p, r.Evaluations, s.Evaluations)
			}
		}
	}
}

// barredOne has nothing feasible.
type barredOne struct{ counted }

func (barredOne) Evaluate(dst *optimize.Outcome, x []float64) {
	dst.F[0], dst.G[0], dst.G[1] = math.Inf(1), 1+x[3]*x[3], math.NaN()
}
