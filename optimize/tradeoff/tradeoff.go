package tradeoff

import (
	"math"

	"forkfront/optimize/problem"
)

// Trade is an exchange of two objectives near a candidate: its continuous variables move along the steepest descent of
// the objective gained, projected on what leaves all objectives but the two no worse and every constraint met.
type Trade struct {
	Gain, Cost int     // objectives, by number
	Rate       float64 // of the derivatives: how much the second rises for each unit that the first falls, above 0
	By, For    float64 // found after a finite move: how much the first fell, and how much the second rose; both above 0
	Move       float64 // the largest change of a variable in that move, as a share of its range
}

// Move is the usual longest move, as a share of the range of the variable that changes most.
const Move = 0.02

// Rules of the search for trades.
const (
	halvings = 5    // of it, until the finite move agrees with the derivatives
	agrees   = 0.25 // by which the gain may differ from that of the derivatives, and the cost by twice as much
	least    = 1e-4 // of a gradient that must be left after projection
)

// Finder finds the trades of candidates of a problem. It is for one goroutine.
type Finder struct {
	problem    problem.Differentiable
	variables  []problem.Variable
	objectives []problem.Objective
	df, dg     [][]float64 // derivatives by scaled variables
	at, moved  problem.Outcome
	x, d       []float64
	cone       cone
	move       float64
}

// NewFinder prepares for candidates of a problem, with moves up to a share of the range of the variable that changes
// most.
func NewFinder(p problem.Differentiable, move float64) *Finder {
	f := &Finder{problem: p, move: move, variables: p.Variables(), objectives: p.Objectives()}
	n, m, g := len(f.variables), len(f.objectives), len(p.Constraints())
	f.df, f.dg = rows(m, n), rows(g, n)
	f.at = problem.Outcome{F: make([]float64, m), G: make([]float64, g)}
	f.moved = problem.Outcome{F: make([]float64, m), G: make([]float64, g)}
	f.x = make([]float64, n)
	return f
}

func rows(n, of int) [][]float64 {
	all := make([][]float64, n)
	for i := range all {
		all[i] = make([]float64, of)
	}
	return all
}

// Trades finds those of a feasible candidate, at x in natural units: at most one for each ordered pair of
// objectives, in their order. It is empty where the problem has no derivatives. There is no trade where a gain costs
// nothing, and none where the derivatives do not hold for a finite move, at a kink of an objective.
func (f *Finder) Trades(x []float64) []Trade {
	f.problem.Evaluate(&f.at, x)
	if !f.at.Feasible() || !f.problem.Gradient(f.df, f.dg, x) {
		return nil
	}
	for j := range f.variables {
		v := &f.variables[j]
		span := v.High - v.Low
		for _, all := range [][][]float64{f.df, f.dg} {
			for i := range all {
				all[i][j] *= span
			}
		}
	}
	var trades []Trade
	for gain := range f.objectives {
		for cost := range f.objectives {
			if t, ok := f.trade(x, gain, cost); ok {
				trades = append(trades, t)
			}
		}
	}
	return trades
}

func (f *Finder) trade(x []float64, gain, cost int) (Trade, bool) {
	if gain == cost || norm(f.df[gain]) == 0 || norm(f.df[cost]) == 0 {
		return Trade{}, false
	}
	f.bound(x, gain, cost)
	f.d = append(f.d[:0], f.cone.descend(f.df[gain])...) // the cone is used again for corrections
	d := f.d
	slope := dot(f.df[gain], d) // below 0
	if !(norm(d) > least*norm(f.df[gain])) || !(slope < 0) {
		return Trade{}, false
	}
	t := Trade{Gain: gain, Cost: cost, Rate: dot(f.df[cost], d) / -slope}
	if !(t.Rate*norm(f.df[gain]) > least*norm(f.df[cost])) {
		return Trade{}, false
	}
	step := f.move / largest(d)
	for range halvings {
		if f.try(x, d, step, gain, cost) {
			t.By, t.For = f.at.F[gain]-f.moved.F[gain], f.moved.F[cost]-f.at.F[cost]
			t.Move = f.shift(x)
			if math.Abs(t.By+slope*step) <= -agrees*slope*step && math.Abs(t.For-t.Rate*t.By) <= 2*agrees*t.Rate*t.By {
				return t, true
			}
		}
		step /= 2
	}
	return Trade{}, false
}

// bound gathers what the direction of a trade must keep to: other objectives no worse, and the bounds and constraints
// that the longest move can meet.
func (f *Finder) bound(x []float64, gain, cost int) {
	n := len(f.variables)
	f.cone.reset(n)
	for k := range f.objectives {
		if k != gain && k != cost {
			f.cone.keep(f.df[k], 0)
		}
	}
	for i, g := range f.at.G {
		if g > -f.move*l1(f.dg[i]) {
			f.cone.keep(f.dg[i], 0)
		}
	}
	for j := range f.variables {
		v := &f.variables[j]
		switch u := (x[j] - v.Low) / (v.High - v.Low); {
		case v.Levels > 0 || !(v.High > v.Low):
			f.cone.fix(j)
		case u < f.move:
			f.cone.side(j, -1)
		case u > 1-f.move:
			f.cone.side(j, 1)
		}
	}
}

// try moves along a direction and corrects the move for the curvature of what it must keep to; false where the moved
// design is not feasible or another objective gets worse by more than its resolution.
func (f *Finder) try(x, d []float64, step float64, gain, cost int) bool {
	for j := range x {
		f.x[j] = x[j] + step*d[j]*(f.variables[j].High-f.variables[j].Low)
	}
	const corrections = 3
	for range corrections {
		f.inside()
		f.problem.Evaluate(&f.moved, f.x)
		if f.kept(gain, cost) {
			return true
		}
		f.cone.reset(len(x))
		for j := range f.variables {
			if f.variables[j].Levels > 0 {
				f.cone.fix(j)
			}
		}
		for k := range f.objectives {
			if over := f.moved.F[k] - f.at.F[k]; k != gain && k != cost && !math.IsInf(over, 0) && over > 0 {
				f.cone.keep(f.df[k], -over)
			}
		}
		for i, g := range f.moved.G {
			if g > 0 && !math.IsInf(g, 0) {
				f.cone.keep(f.dg[i], -1.1*g)
			}
		}
		for j, back := range f.cone.nearest() {
			f.x[j] += back * (f.variables[j].High - f.variables[j].Low)
		}
	}
	return false
}

func (f *Finder) kept(gain, cost int) bool {
	if !f.moved.Feasible() {
		return false
	}
	for k := range f.objectives {
		if k != gain && k != cost && f.moved.F[k] > f.at.F[k]+f.objectives[k].Resolution {
			return false
		}
	}
	return true
}

// inside brings the moved variables within their bounds.
func (f *Finder) inside() {
	for j := range f.x {
		f.x[j] = math.Min(math.Max(f.x[j], f.variables[j].Low), f.variables[j].High)
	}
}

// shift is the largest change of a variable as a share of its range.
func (f *Finder) shift(x []float64) float64 {
	most := 0.0
	for j := range x {
		if span := f.variables[j].High - f.variables[j].Low; span > 0 {
			most = math.Max(most, math.Abs(f.x[j]-x[j])/span)
		}
	}
	return most
}
