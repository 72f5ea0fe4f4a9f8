package optimize_test

import (
	"math"
	"reflect"
	"testing"

	"forkfront/optimize"
)

// contradiction asks x to be at least 0.7 and at most 0.4: nothing is feasible. In the middle both are violated, by
// 0.3 together wherever it is; below 0.4 only the first, by at least 0.3, and above 0.7 only the second, as much. y has
// to be at least 0, which it is.
type contradiction struct{}

func (contradiction) Variables() []optimize.Variable {
	return []optimize.Variable{{Name: "x", High: 1}, {Name: "y", High: 1}}
}

func (contradiction) Objectives() []optimize.Objective {
	return []optimize.Objective{{Name: "x"}, {Name: "y"}}
}
func (contradiction) Constraints() []string { return []string{"x is large", "x is small", "y"} }
func (contradiction) Evaluate(dst *optimize.Outcome, x []float64) {
	dst.F[0], dst.F[1] = x[0], x[1]
	dst.G[0], dst.G[1], dst.G[2] = 0.7-x[0], x[0]-0.4, -x[1]
}

func TestNearMissesOfAContradiction(t *testing.T) {
	s := optimize.Settings{Seed: 3, Evaluations: 2000, Workers: 1}
	r := search(t, contradiction{}, s)
	if len(r.Front) != 0 || len(r.Nearest) < 2 || len(r.Nearest) > 5 {
		t.Fatalf("%d feasible, %d near misses", len(r.Front), len(r.Nearest))
	}
	last := 0.0
	for i := range r.Nearest {
		c := &r.Nearest[i]
		v := c.Violation()
		if v < last || v < 0.3-1e-12 || v > 0.32 { // 0.3 is the closed form
			t.Errorf("miss %d violates by %g after %g", i, v, last)
		}
		last = v
	}
	s.Workers = 3
	if again := search(t, contradiction{}, s); !reflect.DeepEqual(again.Nearest, r.Nearest) {
		t.Errorf("with three workers: %v", again.Nearest)
	}
}

// plenty is feasible everywhere but in a corner.
type plenty struct{ contradiction }

func (plenty) Constraints() []string { return []string{"corner"} }
func (plenty) Evaluate(dst *optimize.Outcome, x []float64) {
	dst.F[0], dst.F[1] = x[0], x[1]
	dst.G[0] = 0.3 - math.Max(x[0], x[1])
}

func TestNoNearMissesWherePlentyIsFeasible(t *testing.T) {
	r := search(t, plenty{}, optimize.Settings{Seed: 1, Evaluations: 500, Workers: 1})
	if len(r.Front) == 0 || len(r.Nearest) != 0 {
		t.Errorf("%d feasible, %d near misses", len(r.Front), len(r.Nearest))
	}
}
