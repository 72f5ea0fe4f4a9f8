package optimize_test

import (
	"math"
	"reflect"
	"testing"

	"forkfront/optimize"
	"forkfront/optimize/testbed"
)

// bowl is Σ (x − 0.3)² in one objective, with its share of levels and constraints.
type bowl struct {
	vars     []optimize.Variable
	hopeless bool
	nan      bool
}

func (b bowl) Variables() []optimize.Variable   { return b.vars }
func (b bowl) Objectives() []optimize.Objective { return make([]optimize.Objective, 1) }
func (b bowl) Constraints() []string            { return make([]string, 1) }
func (b bowl) Evaluate(dst *optimize.Outcome, x []float64) {
	dst.F[0], dst.G[0] = 0, -1
	for _, v := range x {
		dst.F[0] += (v - 0.3) * (v - 0.3)
	}
	if b.hopeless {
		dst.G[0] = 1 + dst.F[0]
	}
	if b.nan {
		dst.F[0] = math.NaN()
	}
}

func TestSearchAtItsEdges(t *testing.T) {
	three := []optimize.Variable{{Low: -1, High: 1}, {Low: 0, High: 1}, {Low: 0.3, High: 0.3}}
	for _, share := range []float64{0, 0.5, 1} {
		r := search(t, bowl{vars: three}, optimize.Settings{Seed: 1, Evaluations: 3000, GradientShare: share})
		if len(r.Front) != 1 || r.Front[0].F[0] > 1e-8 {
			t.Errorf("one objective, gradient share %g: front %v, want its closed-form optimum 0", share, r.Front)
		}
	}
	for name, b := range map[string]bowl{"hopeless": {vars: three, hopeless: true}, "NaN": {vars: three, nan: true}} {
		r := search(t, b, optimize.Settings{Seed: 1, Evaluations: 1000, GradientShare: 0.5, FrontSize: 5})
		if len(r.Front) != 0 || r.FeasibleEvaluations != 0 || r.Evaluations != 1000 {
			t.Errorf("%s: %d candidates, %d evaluations", name, len(r.Front), r.Evaluations)
		}
	}
	levels := []optimize.Variable{{High: 1, Levels: 2}, {High: 2, Levels: 3, Categorical: true}, {Levels: 1}}
	r := search(t, bowl{vars: levels}, optimize.Settings{Seed: 1, Evaluations: 300, GradientShare: 0.5})
	if len(r.Front) != 1 || r.GradientEvaluations != 0 {
		t.Errorf("levels only: %v", r.Front)
	}
	for n := 1; n < 12; n++ {
		for _, p := range []*testbed.Problem{testbed.ZDT1(), testbed.DTLZ2(3), testbed.DTLZ2(8)} {
			s := optimize.Settings{Seed: 1, Evaluations: n * n, Population: n, FrontSize: 3, GradientShare: 0.6}
			if r := search(t, p, s); r.Evaluations > n*n || len(r.Front) == 0 || len(r.Front) > 3 {
				t.Errorf("%s, %d evaluations: %d spent, %d candidates", p.Name, n*n, r.Evaluations, len(r.Front))
			}
		}
	}
}

// Progress counts up, and the hypervolume of two objectives never falls by more than
// thinning may cost.
func TestProgress(t *testing.T) {
	for _, p := range []*testbed.Problem{testbed.ZDT1(), testbed.DTLZ2(5)} {
		var all []optimize.Generation
		search(t, p, optimize.Settings{Seed: 1, Evaluations: 2000, Progress: func(g optimize.Generation) { all = append(all, g) }})
		if len(all) < 10 {
			t.Fatalf("%s: %d generations", p.Name, len(all))
		}
		for i, g := range all[1:] {
			if g.Number != all[i].Number+1 || g.Evaluations <= all[i].Evaluations || g.Hypervolume < 0.999*all[i].Hypervolume {
				t.Errorf("%s: %+v after %+v", p.Name, g, all[i])
			}
		}
	}
}

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
