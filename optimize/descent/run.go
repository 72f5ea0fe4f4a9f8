// Package descent goes down from one member to a better one by gradients, along constraints where these bind.
package descent

import (
	"context"
	"math"
	"slices"

	gonum "gonum.org/v1/gonum/optimize"

	"forkfront/optimize/matrix"
	"forkfront/optimize/population"
	"forkfront/optimize/problem"
)

// Settings are what the runs of a search have in common.
type Settings struct {
	Space        *problem.Space
	Span         []float64 // of each objective, the range by which it is scaled
	Constraints  int       // how many there are
	GradientCost float64   // of a gradient, in evaluations
	Exact        bool      // gradients are the problem's, which is Differentiable; else they are differences

	Blank  func(n int) []*population.Member              // makes members to be evaluated
	Assess func(p problem.Problem, m *population.Member) // evaluates one, by its variables in natural units; called by many goroutines at once
}

// Run is one local search by gradients: limited-memory BFGS on one number made of the
// objectives and constraints, in an angle t per continuous variable, u = (1 + sin t)/2, so
// that no step leaves the bounds; with two objectives or more it steps along constraints that bind. Discrete variables are held.
type Run struct {
	Settings
	Start     *population.Member // feasible
	Partner   *population.Member // of the same discrete variables: the run begins halfway to it; nil: at Start
	Reference []float64          // maximise the box below it; nil: seek the best end of objective Extreme
	Extreme   int
	Budget    int // evaluations it may spend

	Visited []*population.Member // evaluated, in this order
	Best    *population.Member   // of least merit among the feasible ones; nil: none but Start
	Gain    float64              // in merit, from where it began to Best; never below 0

	spentExact float64
	moving     []int // variables that move
	multiplier []float64
	penalty    float64
	df, dg     [][]float64
	problem    problem.Problem
	panicked   any // what a panic said
	lastMember *population.Member
	lastAngles []float64
}

// New is a run that begins at a member and seeks the best end of the first objective, without a budget so far.
func New(s Settings, start *population.Member) *Run {
	return &Run{Settings: s, Start: start, multiplier: make([]float64, s.Constraints), penalty: 10}
}

// Spent is how many evaluations it took, gradients included at their cost, rounded up.
func (r *Run) Spent() int { return int(math.Ceil(r.spentExact)) }

func (r *Run) affords(cost float64) bool { return r.spentExact+cost <= float64(r.Budget) }

// constraintMargin keeps the answer a little inside, since the multipliers only converge
// to the edge and a candidate on its far side is worth nothing.
const constraintMargin = 1e-4

// bfgsMost is the number of variables up to which all of the inverse Hessian is kept: the time grows with their square.
const bfgsMost = 50

// Search goes down and fills Visited, Best and Gain. A panic in the problem is passed on in the calling goroutine.
func (r *Run) Search(ctx context.Context, p problem.Problem) {
	r.problem = p
	r.df, r.dg = matrix.Zeros(len(r.Span), len(r.Space.Variables)), matrix.Zeros(r.Constraints, len(r.Space.Variables))
	from := r.Start
	if r.Partner != nil {
		if from = r.midpoint(r.Start, r.Partner, 0.5); from == nil || !from.Feasible || math.IsInf(r.merit(from), 1) {
			return
		}
	}
	before := r.merit(from)
	r.updateBest(from)
	if r.Constraints > 0 && !r.singleObjective() {
		r.follow(ctx, from)
		if r.panicked != nil {
			panic(r.panicked)
		}
	} else {
		r.descend(ctx, from)
	}
	if r.Best != nil {
		r.Gain = before - r.merit(r.Best)
	}
	if r.Best == r.Start {
		r.Best = nil
	}
}

// descend is a run of an augmented Lagrangian, or one minimisation where there are no constraints.
func (r *Run) descend(ctx context.Context, from *population.Member) {
	grad := make([]float64, len(r.Space.Variables))
	for range 4 {
		var next *population.Member
		if r.gradient(grad, from) {
			next = r.minimise(ctx, from, grad)
		}
		if r.panicked != nil {
			panic(r.panicked)
		}
		if next == nil || r.Constraints == 0 || r.singleObjective() && r.slack(next) || !r.affords(r.GradientCost+2) || ctx.Err() != nil {
			break
		}
		r.updateMultipliers(next)
		r.backtrack(next)
		from = next
	}
}

// singleObjective reports whether there is one objective.
func (r *Run) singleObjective() bool { return len(r.Span) == 1 }

// slack tells whether no constraint has any part in where a minimisation ended.
func (r *Run) slack(m *population.Member) bool {
	for i, g := range m.Outcome.G {
		if r.multiplier[i]+r.penalty*(g+constraintMargin) > 0 {
			return false
		}
	}
	return true
}

// updateMultipliers is the step of the augmented Lagrangian between two minimisations.
func (r *Run) updateMultipliers(m *population.Member) {
	for i, g := range m.Outcome.G {
		r.multiplier[i] = max(0, r.multiplier[i]+r.penalty*(g+constraintMargin))
	}
	r.penalty *= 4
}

// backtrack looks for a feasible point between an infeasible one and the best one so far.
func (r *Run) backtrack(m *population.Member) {
	for try := 0; try < 3 && m != nil && !m.Feasible && r.Best != nil; try++ {
		m = r.midpoint(r.Best, m, 0.5)
	}
}

func (r *Run) midpoint(a, b *population.Member, part float64) *population.Member {
	u := make([]float64, len(a.U))
	for i := range u {
		u[i] = a.U[i] + part*(b.U[i]-a.U[i])
		if r.Space.Variables[i].Levels > 0 {
			u[i] = a.U[i]
		}
	}
	return r.evaluate(u)
}

// evaluate evaluates a point; nil when the budget does not allow it or the problem panicked.
func (r *Run) evaluate(u []float64) *population.Member {
	if !r.affords(1) || r.panicked != nil {
		return nil
	}
	r.spentExact++
	m := r.Blank(1)[0]
	copy(m.U, u)
	r.Space.Natural(m.X, m.U)
	if !r.catchPanic(func() { r.Assess(r.problem, m) }) {
		return nil
	}
	r.Visited = append(r.Visited, m)
	r.updateBest(m)
	return m
}

func (r *Run) updateBest(m *population.Member) {
	if v := r.merit(m); m.Feasible && !math.IsInf(v, 1) && (r.Best == nil || v < r.merit(r.Best)) {
		r.Best = m
	}
}

// catchPanic keeps a panic from the goroutine of gonum, where nobody could recover it.
func (r *Run) catchPanic(do func()) (ok bool) {
	defer func() {
		if p := recover(); p != nil {
			r.panicked, ok = p, false
		}
	}()
	do()
	return true
}

// minimise goes down from a point, where the Lagrangian's derivative is given, and returns the last one reached, nil if
// none was.
func (r *Run) minimise(ctx context.Context, from *population.Member, grad []float64) *population.Member {
	t := r.angles(from, grad)
	if len(t) == 0 {
		return nil
	}
	r.lastMember, r.lastAngles = nil, nil
	lagrangian := gonum.Problem{
		Func: func(t []float64) float64 { return r.value(from, t) },
		Grad: func(g, t []float64) { r.gradientAt(g, from, t) },
		Status: func() (gonum.Status, error) {
			if ctx.Err() != nil || r.panicked != nil || !r.affords(1) {
				return gonum.FunctionEvaluationLimit, nil
			}
			return gonum.NotTerminated, nil
		},
	}
	settings := &gonum.Settings{
		GradientThreshold: 1e-6, FuncEvaluations: r.Budget,
		Converger: &gonum.FunctionConverge{Absolute: 1e-6, Iterations: 3},
	}
	var method gonum.Method = &gonum.LBFGS{Store: 6}
	if r.singleObjective() { // down to the optimum: a front's points are only improved as long as that is cheap
		settings.GradientThreshold = 1e-9
		settings.Converger = &gonum.FunctionConverge{Absolute: 1e-10, Relative: 1e-8, Iterations: 5}
		if len(t) <= bfgsMost {
			method = &gonum.BFGS{}
		}
	}
	// Errors here mean "no further" (a line search at the accuracy's end, the budget): what
	// counts are the points visited on the way.
	result, _ := gonum.Minimize(lagrangian, t, settings, method)
	if result == nil || r.lastMember == nil {
		return nil
	}
	return r.lastMember
}

// angles gives the free variables' angles. A variable that sits on a bound and is pushed
// against it is held; one that would come off it starts a little inside, because exactly
// at the bound the angle has no slope.
func (r *Run) angles(m *population.Member, grad []float64) []float64 {
	const inside = 1e-4
	r.moving = r.moving[:0]
	var t []float64
	for _, i := range r.Space.Continuous() {
		u := m.U[i]
		if u <= 1e-9 && grad[i] >= 0 || u >= 1-1e-9 && grad[i] <= 0 {
			continue
		}
		r.moving = append(r.moving, i)
		t = append(t, math.Asin(2*min(max(u, inside), 1-inside)-1))
	}
	return t
}

// value evaluates the Lagrangian at angles t.
func (r *Run) value(from *population.Member, t []float64) float64 {
	u := append([]float64(nil), from.U...)
	for k, i := range r.moving {
		u[i] = (1 + math.Sin(t[k])) / 2
	}
	m := r.evaluate(u)
	if m == nil {
		return math.Inf(1)
	}
	v := r.lagrangian(m)
	if !math.IsInf(v, 1) {
		r.lastMember, r.lastAngles = m, append(r.lastAngles[:0], t...)
	}
	return v
}

// gradientAt writes the Lagrangian's derivative by t; zeros, which end the run, where there
// is none.
func (r *Run) gradientAt(g []float64, from *population.Member, t []float64) {
	clear(g)
	m := r.lastMember
	if m == nil || !slices.Equal(r.lastAngles, t) {
		if math.IsInf(r.value(from, t), 1) {
			return
		}
		m = r.lastMember
	}
	grad := make([]float64, len(r.Space.Variables))
	if !r.gradient(grad, m) {
		return
	}
	for k, i := range r.moving {
		g[k] = grad[i] * math.Cos(t[k]) / 2
	}
}
