package tradeoff

import (
	"math"
	"testing"

	"forkfront/optimize/problem"
)

// bowls is a problem of squared distances from points, with one linear constraint at·x ≤ most where at is given. All
// variables are within −4 and 4.
type bowls struct {
	centres [][]float64
	at      []float64
	most    float64
}

func (p *bowls) Variables() (all []problem.Variable) {
	for range p.centres[0] {
		all = append(all, problem.Variable{Low: -4, High: 4})
	}
	return all
}

func (p *bowls) Objectives() []problem.Objective {
	all := make([]problem.Objective, len(p.centres))
	for i := range all {
		all[i].Resolution = 1e-3
	}
	return all
}

func (p *bowls) Constraints() []string { return make([]string, min(1, len(p.at))) }

func (p *bowls) Evaluate(dst *problem.Outcome, x []float64) {
	for i, c := range p.centres {
		dst.F[i] = 0
		for j := range x {
			dst.F[i] += (x[j] - c[j]) * (x[j] - c[j])
		}
	}
	if p.at != nil {
		dst.G[0] = dot(p.at, x) - p.most
	}
}

func (p *bowls) Gradient(df, dg [][]float64, x []float64) bool {
	for i, c := range p.centres {
		for j := range x {
			df[i][j] = 2 * (x[j] - c[j])
		}
	}
	if p.at != nil {
		copy(dg[0], p.at)
	}
	return true
}

// Between two bowls the front is the line from a to b. At a share s of the way, the gradients are 2s(b−a) and
// −2(1−s)(b−a), so that a unit gained of the first costs (1−s)/s of the second, and the other way about.
func TestTheFrontOfTwoBowls(t *testing.T) {
	a, b := []float64{-1, 0.5, 2}, []float64{2, -1, 1}
	f := NewFinder(&bowls{centres: [][]float64{a, b}}, Move)
	for _, s := range []float64{0.1, 0.5, 0.8} {
		x := make([]float64, 3)
		for j := range x {
			x[j] = a[j] + s*(b[j]-a[j])
		}
		all := f.Trades(x)
		if len(all) != 2 {
			t.Fatalf("at %g: %d trades, want one each way", s, len(all))
		}
		for i, want := range []float64{(1 - s) / s, s / (1 - s)} {
			if got := all[i]; got.Gain != i || got.Cost != 1-i || math.Abs(got.Rate-want) > 1e-9*want {
				t.Errorf("at %g: %+v, want a rate of %g", s, got, want)
			}
			// A finite move along the line: both change with half the second derivative, 1, times its length squared.
			length := all[i].Move * 8 * math.Sqrt(3*3+1.5*1.5+1) / 3
			if off := math.Abs(all[i].For - want*all[i].By - (1+want)*length*length); off > 1e-9 {
				t.Errorf("at %g: gained %g for %g, off by %g", s, all[i].By, all[i].For, off)
			}
		}
	}
}

// Three bowls in a plane, at a corner, with a constraint that passes through the candidate: only moves along the
// constraint are left, so the rate is that of the two gradients along it.
func TestAnActiveConstraint(t *testing.T) {
	// x = (0, 0), the constraint y ≤ 0 through it; bowls at (−1, 1) and (2, 3) pull beyond it. Along x the gradients
	// are 2 and −4: a unit of the first costs 2 of the second.
	f := NewFinder(&bowls{centres: [][]float64{{-1, 1}, {2, 3}}, at: []float64{0, 1}}, Move)
	all := f.Trades([]float64{0, 0})
	if len(all) != 2 || math.Abs(all[0].Rate-2) > 1e-9 || math.Abs(all[1].Rate-0.5) > 1e-9 {
		t.Errorf("%+v, want rates of 2 and 0.5", all)
	}
	// Nothing holds a candidate inside the constraint by more than a move: the first bowl is approached without cost.
	inside := NewFinder(&bowls{centres: [][]float64{{-1, 1}, {2, 3}}, at: []float64{0, 1}, most: 3}, Move)
	if all := inside.Trades([]float64{0, 0}); len(all) != 0 {
		t.Errorf("inside the constraint, a gain costs nothing: %+v", all)
	}
}

// A third objective is left no worse: gaining the first at the cost of the second moves along the contour of the third.
func TestOtherObjectivesAreNoWorse(t *testing.T) {
	p := &bowls{centres: [][]float64{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}}}
	f := NewFinder(p, Move)
	x := []float64{1. / 3, 1. / 3, 1. / 3}
	all := f.Trades(x)
	if len(all) != 6 {
		t.Fatalf("%d trades, want 6", len(all))
	}
	for _, k := range all {
		// By symmetry, all multipliers are equal.
		if math.Abs(k.Rate-1) > 1e-6 {
			t.Errorf("%+v, want a rate of 1", k)
		}
		if k.Move <= 0 || k.Move > Move*1.5 {
			t.Errorf("%+v moves too far", k)
		}
	}
}

// A candidate that is far behind the front gains both, which is no trade.
func TestDominatedCandidate(t *testing.T) {
	f := NewFinder(&bowls{centres: [][]float64{{-1, 0}, {1, 0}}}, Move)
	if all := f.Trades([]float64{0, 2}); len(all) != 0 {
		t.Errorf("%+v: both can be gained", all)
	}
}

// A bound that the descent leaves is kept, and one that it does not is no bar.
func TestBoundsAreKept(t *testing.T) {
	f := NewFinder(&bowls{centres: [][]float64{{-6, 0}, {-5, 3}}}, Move)
	x := []float64{-4, 1.5}
	all := f.Trades(x)
	// Along the second variable alone: 2·1.5 against −2·1.5.
	if len(all) != 2 || math.Abs(all[0].Rate-1) > 1e-9 {
		t.Errorf("%+v, want rates of 1", all)
	}
	if f.x[0] != -4 {
		t.Errorf("the first variable left its bound for %g", f.x[0])
	}
}

func TestNothingWithoutDerivatives(t *testing.T) {
	p := &bowls{centres: [][]float64{{1, 0}, {0, 1}}, at: []float64{1, 1}, most: -3}
	if all := NewFinder(p, Move).Trades([]float64{0, 0}); all != nil {
		t.Errorf("an infeasible candidate trades %+v", all)
	}
}
