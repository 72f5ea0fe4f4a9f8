package testbed

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"forkfront/optimize/problem"
)

// rounding is what a sum of some dozen terms of the size of 1 may be off by, and what a root
// (CTP3 to 5, FON) makes of 1e-15.
const rounding = 1e-6

func evaluated(p *Problem, x []float64) problem.Outcome {
	out := problem.Outcome{F: make([]float64, p.M), G: make([]float64, p.C)}
	p.Evaluate(&out, x)
	return out
}

func TestEveryFurtherProblemIsChecked(t *testing.T) {
	checked := map[string]bool{}
	for _, k := range knowns() {
		checked[fmt.Sprint(k.Name, k.M)] = true
	}
	for _, c := range Further() {
		if !checked[fmt.Sprint(c.Name, c.M)] {
			t.Errorf("%s with %d objectives has no known set", c.Name, c.M)
		}
	}
}

func TestSetsEvaluateOntoTheirFronts(t *testing.T) {
	for _, k := range knowns() {
		if err := k.onFront(500); err != nil {
			t.Error(err)
		}
	}
}

// onFront returns an error when a point drawn from the set is out of bounds, not allowed or
// off the front.
func (k known) onFront(n int) error {
	rng := rand.New(rand.NewPCG(1, 0))
	for range n {
		x := k.set(rng)
		for i, v := range k.Vars {
			if x[i] < v.Low || x[i] > v.High {
				return fmt.Errorf("%s: x%d = %g is outside %g..%g", k.Name, i+1, x[i], v.Low, v.High)
			}
		}
		out := evaluated(k.Problem, x)
		if out.Violation() > rounding {
			return fmt.Errorf("%s: %v of the set violates constraints: %v", k.Name, x, out.G)
		}
		if k.above != nil && !k.touches() && !(math.Abs(k.above(out.F)) <= rounding) {
			return fmt.Errorf("%s: %v of the set is %g off the front", k.Name, out.F, k.above(out.F))
		}
	}
	return nil
}

func TestNothingDominatesTheFronts(t *testing.T) {
	for _, k := range knowns() {
		if k.above == nil {
			continue
		}
		if err := k.lowest(20000); err != nil {
			t.Error(err)
		}
	}
}

// lowest returns an error when one of n points is allowed and below the front, or when too
// few are allowed to tell.
func (k known) lowest(n int) error {
	rng := rand.New(rand.NewPCG(2, 0))
	feasible := 0
	for range n {
		out := evaluated(k.Problem, k.somewhere(rng))
		if !out.Feasible() {
			continue
		}
		feasible++
		if !(k.above(out.F) >= -rounding) {
			return fmt.Errorf("%s: %v is %g below the front", k.Name, out.F, -k.above(out.F))
		}
	}
	if feasible < n/50 {
		return fmt.Errorf("%s: only %d of %d points are allowed", k.Name, feasible, n)
	}
	return nil
}

// somewhere is any point, or one of the set with some of its variables moved, by a little up
// to all of their range.
func (k known) somewhere(rng *rand.Rand) []float64 {
	x := k.set(rng)
	size, share := math.Pow(10, -4*rng.Float64()), rng.Float64()
	everywhere := rng.IntN(3) == 0
	for i, v := range k.Vars {
		if everywhere {
			x[i] = v.Low + rng.Float64()*(v.High-v.Low)
		} else if rng.Float64() < share {
			x[i] = min(max(x[i]+size*rng.NormFloat64()*(v.High-v.Low), v.Low), v.High)
		}
	}
	return x
}

// The share of a dense front is nearly 1, and points from elsewhere do not take it past that:
// so volume, ideal and nadir belong together, and nothing dominates the front. 1e-5 is what
// the steps of the curves leave out, 2e-4 those of C2-DTLZ2's grid.
func TestDenseFrontsHaveTheirVolume(t *testing.T) {
	least := map[int]float64{2: 0.99, 3: 0.95}
	for _, k := range knowns() {
		floor, ok := least[k.M]
		if !ok {
			continue
		}
		beyond := 1e-5
		switch {
		case k.Name == "C2-DTLZ2":
			beyond = 2e-4
		case k.Name == "CTP3" || k.Name == "CTP4" || k.Name == "CTP5":
			floor = 0.9 // points alone, which the draws come only near to
		}
		if err := k.fills(floor, 1+beyond); err != nil {
			t.Error(err)
		}
	}
}

// fills returns an error when 3000 points of the set and 5000 others have
// a share outside low..high.
func (k known) fills(low, high float64) error {
	rng := rand.New(rand.NewPCG(3, 0))
	var front []problem.Candidate
	for range 3000 {
		front = append(front, problem.Candidate{Outcome: evaluated(k.Problem, k.set(rng))})
	}
	if share := k.Share(front); !(share > low) {
		return fmt.Errorf("%s: the dense front has a share of %.6f, want above %g", k.Name, share, low)
	}
	for range 5000 {
		if out := evaluated(k.Problem, k.somewhere(rng)); out.Feasible() {
			front = append(front, problem.Candidate{Outcome: out})
		}
	}
	if share := k.Share(front); !(share <= high) {
		return fmt.Errorf("%s: some points have a share of %.6f, want at most %g", k.Name, share, high)
	}
	return nil
}

// The checks above object to a front that is off by a thousandth, either way.
func TestChecksRejectAWrongFront(t *testing.T) {
	checked := 0
	for _, k := range knowns() {
		right := k.Eval
		wrong := func(by float64) known {
			p := *k.Problem
			p.Eval = func(f, g, x []float64) {
				right(f, g, x)
				for i := range f {
					f[i] += by * (p.Nadir[i] - p.Ideal[i])
				}
			}
			return known{&p, k.set, k.above}
		}
		if k.M == 2 && k.Name != "CTP3" && k.Name != "CTP4" && k.Name != "CTP5" {
			checked++
			if err := wrong(-1e-3).fills(0.99, 1+1e-5); err == nil || !strings.Contains(err.Error(), "some points") {
				t.Errorf("%s: a volume a thousandth too small was let through: %v", k.Name, err)
			}
		}
		if k.above == nil || k.touches() {
			continue
		}
		checked++
		if wrong(1e-3).onFront(500) == nil || wrong(-1e-3).lowest(20000) == nil {
			t.Errorf("%s: a front off by a thousandth was let through", k.Name)
		}
	}
	if checked < 40 {
		t.Errorf("only %d fronts were made wrong", checked)
	}
}
