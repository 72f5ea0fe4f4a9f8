package optimize

import (
	"context"
	"math"
	"slices"

	gonum "gonum.org/v1/gonum/optimize"
)

// descentSettings is what the local searches of a stage have in common.
type descentSettings struct {
	space        *space
	span         []float64 // of each objective, the range by which it is scaled
	constraints  int
	gradientCost float64 // of a gradient, in evaluations
	exact        bool    // gradients are the problem's, not differences
	blank        func(n int) []*member
	assess       func(p Problem, m *member) // evaluates a member; called by many goroutines at once
}

// localSearch is one local search by gradients: limited-memory BFGS on one number made of the
// objectives and constraints, in an angle t per continuous variable, u = (1 + sin t)/2, so
// that no step leaves the bounds. Discrete variables are held.
type localSearch struct {
	descentSettings
	start, partner *member   // begins at start, or halfway between the two
	reference      []float64 // maximise the box below it; nil: seek the best end of objective extreme
	extreme        int
	budget         int // evaluations it may spend

	visited []*member // evaluated, in this order
	best    *member   // lowest merit among the feasible ones, start excepted; nil: none
	gain    float64   // in merit, from start to best

	spentExact float64
	moving     []int // variables that move
	multiplier []float64
	penalty    float64
	df, dg     [][]float64
	problem    Problem
	panicked   any // what a panic said
	lastMember *member
	lastAngles []float64
}

// newLocalSearch is a search that begins at a member and seeks the best end of the first objective unless told otherwise.
func newLocalSearch(s descentSettings, start *member) *localSearch {
	return &localSearch{descentSettings: s, start: start, multiplier: make([]float64, s.constraints), penalty: 10}
}

// spent is how many evaluations it took, gradients included at their cost.
func (r *localSearch) spent() int { return int(math.Ceil(r.spentExact)) }

func (r *localSearch) affords(cost float64) bool { return r.spentExact+cost <= float64(r.budget) }

// constraintMargin keeps the answer a little inside, since the multipliers only converge
// to the edge and a candidate on its far side is worth nothing.
const constraintMargin = 1e-4

// bfgsMost is the number of variables up to which all of the inverse Hessian is kept: the time grows with their square.
const bfgsMost = 50

// search runs the search. A panic in the problem is passed on in the calling goroutine.
func (r *localSearch) search(ctx context.Context, p Problem) {
	r.problem = p
	r.df, r.dg = zeros(len(r.span), len(r.space.variables)), zeros(r.constraints, len(r.space.variables))
	from := r.start
	if r.partner != nil {
		if from = r.midpoint(r.start, r.partner, 0.5); from == nil || !from.feasible || math.IsInf(r.merit(from), 1) {
			return
		}
	}
	before := r.merit(from)
	r.updateBest(from)
	if r.constraints > 0 && !r.singleObjective() {
		r.follow(ctx, from)
		if r.panicked != nil {
			panic(r.panicked)
		}
	} else {
		r.descend(ctx, from)
	}
	if r.best != nil {
		r.gain = before - r.merit(r.best)
	}
	if r.best == r.start {
		r.best = nil
	}
}

// descend is a run of an augmented Lagrangian, or one minimisation where there are no constraints.
func (r *localSearch) descend(ctx context.Context, from *member) {
	grad := make([]float64, len(r.space.variables))
	for range 4 {
		var next *member
		if r.gradient(grad, from) {
			next = r.minimise(ctx, from, grad)
		}
		if r.panicked != nil {
			panic(r.panicked)
		}
		if next == nil || r.constraints == 0 || r.singleObjective() && r.slack(next) || !r.affords(r.gradientCost+2) || ctx.Err() != nil {
			break
		}
		r.updateMultipliers(next)
		r.backtrack(next)
		from = next
	}
}

// singleObjective reports whether there is one objective.
func (r *localSearch) singleObjective() bool { return len(r.span) == 1 }

// slack tells whether no constraint has any part in where a minimisation ended.
func (r *localSearch) slack(m *member) bool {
	for i, g := range m.outcome.G {
		if r.multiplier[i]+r.penalty*(g+constraintMargin) > 0 {
			return false
		}
	}
	return true
}

// updateMultipliers is the step of the augmented Lagrangian between two minimisations.
func (r *localSearch) updateMultipliers(m *member) {
	for i, g := range m.outcome.G {
		r.multiplier[i] = max(0, r.multiplier[i]+r.penalty*(g+constraintMargin))
	}
	r.penalty *= 4
}

// backtrack looks for a feasible point between an infeasible one and the best one so far.
func (r *localSearch) backtrack(m *member) {
	for try := 0; try < 3 && m != nil && !m.feasible && r.best != nil; try++ {
		m = r.midpoint(r.best, m, 0.5)
	}
}

func (r *localSearch) midpoint(a, b *member, part float64) *member {
	u := make([]float64, len(a.u))
	for i := range u {
		u[i] = a.u[i] + part*(b.u[i]-a.u[i])
		if r.space.variables[i].Levels > 0 {
			u[i] = a.u[i]
		}
	}
	return r.evaluate(u)
}

// evaluate evaluates a point; nil when the budget does not allow it or the problem panicked.
func (r *localSearch) evaluate(u []float64) *member {
	if !r.affords(1) || r.panicked != nil {
		return nil
	}
	r.spentExact++
	m := r.blank(1)[0]
	copy(m.u, u)
	r.space.natural(m.x, m.u)
	if !r.catchPanic(func() { r.assess(r.problem, m) }) {
		return nil
	}
	r.visited = append(r.visited, m)
	r.updateBest(m)
	return m
}

func (r *localSearch) updateBest(m *member) {
	if v := r.merit(m); m.feasible && !math.IsInf(v, 1) && (r.best == nil || v < r.merit(r.best)) {
		r.best = m
	}
}

// catchPanic keeps a panic from the goroutine of gonum, where nobody could recover it.
func (r *localSearch) catchPanic(do func()) (ok bool) {
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
func (r *localSearch) minimise(ctx context.Context, from *member, grad []float64) *member {
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
		GradientThreshold: 1e-6, FuncEvaluations: r.budget,
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
func (r *localSearch) angles(m *member, grad []float64) []float64 {
	const inside = 1e-4
	r.moving = r.moving[:0]
	var t []float64
	for _, i := range r.space.continuous() {
		u := m.u[i]
		if u <= 1e-9 && grad[i] >= 0 || u >= 1-1e-9 && grad[i] <= 0 {
			continue
		}
		r.moving = append(r.moving, i)
		t = append(t, math.Asin(2*min(max(u, inside), 1-inside)-1))
	}
	return t
}

// value evaluates the Lagrangian at angles t.
func (r *localSearch) value(from *member, t []float64) float64 {
	u := append([]float64(nil), from.u...)
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
func (r *localSearch) gradientAt(g []float64, from *member, t []float64) {
	clear(g)
	m := r.lastMember
	if m == nil || !slices.Equal(r.lastAngles, t) {
		if math.IsInf(r.value(from, t), 1) {
			return
		}
		m = r.lastMember
	}
	grad := make([]float64, len(r.space.variables))
	if !r.gradient(grad, m) {
		return
	}
	for k, i := range r.moving {
		g[k] = grad[i] * math.Cos(t[k]) / 2
	}
}
