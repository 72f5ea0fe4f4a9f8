package optimize

import (
	"context"
	"math"
	"slices"

	gonum "gonum.org/v1/gonum/optimize"
)

// run is one local search by gradients: limited-memory BFGS on one number made of the
// objectives and constraints, in an angle t per continuous variable, u = (1 + sin t)/2, so
// that no step leaves the bounds. Discrete variables are held.
type run struct {
	space        *space
	start, mate  *member // begins at start, or halfway between the two
	span         []float64
	corner       []float64 // maximise the box below it; nil: seek the best end of objective end
	end          int
	cost         float64 // of a gradient, in evaluations
	most         int     // evaluations it may spend
	constraints  int
	spentF       float64
	visited      []*member
	best         *member // lowest merit among the feasible ones
	gain         float64 // in merit, from start to best
	free         []int   // variables that move
	multiplier   []float64
	penalty      float64
	df, dg       [][]float64
	problem      Problem
	differential bool
	failure      any // what a panic said
	last         *member
	lastT        []float64
}

func (r *run) spent() int { return int(math.Ceil(r.spentF)) }

func (r *run) canPay(cost float64) bool { return r.spentF+cost <= float64(r.most) }

// axesMost is the number of variables up to which axes are computed: the time grows with the third power.
const axesMost = 50

// constraintMargin keeps the answer a little inside, since the multipliers only converge
// to the edge and a candidate on its far side is worth nothing.
const constraintMargin = 1e-4

// do runs the search. A panic in the problem is passed on in the calling goroutine.
func (r *run) do(ctx context.Context, p Problem) {
	r.problem = p
	r.df, r.dg = grid(len(r.span), len(r.space.variables)), grid(r.constraints, len(r.space.variables))
	from := r.start
	if r.mate != nil {
		if from = r.halfway(r.start, r.mate, 0.5); from == nil || !from.feasible || math.IsInf(r.merit(from), 1) {
			return
		}
	}
	before := r.merit(from)
	r.keep(from)
	if r.constraints > 0 && !r.alone() {
		r.follow(ctx, from)
		if r.failure != nil {
			panic(r.failure)
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
func (r *run) descend(ctx context.Context, from *member) {
	grad := make([]float64, len(r.space.variables))
	for range 4 {
		var next *member
		if r.slope(grad, from) {
			next = r.minimise(ctx, from, grad)
		}
		if r.failure != nil {
			panic(r.failure)
		}
		if next == nil || r.constraints == 0 || r.alone() && r.slack(next) || !r.canPay(r.cost+2) || ctx.Err() != nil {
			break
		}
		r.tighten(next)
		r.retreat(next)
		from = next
	}
}

// alone tells whether there is one objective.
func (r *run) alone() bool { return len(r.span) == 1 }

// slack tells whether no constraint has any part in where a minimisation ended.
func (r *run) slack(m *member) bool {
	for i, g := range m.out.G {
		if r.multiplier[i]+r.penalty*(g+constraintMargin) > 0 {
			return false
		}
	}
	return true
}

func grid(rows, columns int) [][]float64 {
	g := make([][]float64, rows)
	for i := range g {
		g[i] = make([]float64, columns)
	}
	return g
}

// tighten is the step of the augmented Lagrangian between two minimisations.
func (r *run) tighten(m *member) {
	for i, g := range m.out.G {
		r.multiplier[i] = max(0, r.multiplier[i]+r.penalty*(g+constraintMargin))
	}
	r.penalty *= 4
}

// retreat looks for a feasible point between an infeasible one and the best one so far.
func (r *run) retreat(m *member) {
	for try := 0; try < 3 && m != nil && !m.feasible && r.best != nil; try++ {
		m = r.halfway(r.best, m, 0.5)
	}
}

func (r *run) halfway(a, b *member, part float64) *member {
	u := make([]float64, len(a.u))
	for i := range u {
		u[i] = a.u[i] + part*(b.u[i]-a.u[i])
		if r.space.variables[i].Levels > 0 {
			u[i] = a.u[i]
		}
	}
	return r.visit(u)
}

// visit evaluates a point; nil when the budget does not allow it or the problem panicked.
func (r *run) visit(u []float64) *member {
	if !r.canPay(1) || r.failure != nil {
		return nil
	}
	r.spentF++
	m := newMembers(1, len(u), len(r.span), r.constraints)[0]
	copy(m.u, u)
	r.space.natural(m.x, m.u)
	if !r.guard(func() { r.problem.Evaluate(&m.out, m.x) }) {
		return nil
	}
	m.settle()
	r.visited = append(r.visited, m)
	r.keep(m)
	return m
}

func (r *run) keep(m *member) {
	if v := r.merit(m); m.feasible && !math.IsInf(v, 1) && (r.best == nil || v < r.merit(r.best)) {
		r.best = m
	}
}

// guard keeps a panic from the goroutine of gonum, where nobody could recover it.
func (r *run) guard(do func()) (ok bool) {
	defer func() {
		if p := recover(); p != nil {
			r.failure, ok = p, false
		}
	}()
	do()
	return true
}

// minimise goes down from a point, where the Lagrangian's derivative is given, and returns the last one reached, nil if
// none was.
func (r *run) minimise(ctx context.Context, from *member, grad []float64) *member {
	t := r.angles(from, grad)
	if len(t) == 0 {
		return nil
	}
	r.last, r.lastT = nil, nil
	problem := gonum.Problem{
		Func: func(t []float64) float64 { return r.at(from, t) },
		Grad: func(g, t []float64) { r.slopeAt(g, from, t) },
		Status: func() (gonum.Status, error) {
			if ctx.Err() != nil || r.failure != nil || !r.canPay(1) {
				return gonum.FunctionEvaluationLimit, nil
			}
			return gonum.NotTerminated, nil
		},
	}
	settings := &gonum.Settings{
		GradientThreshold: 1e-6, FuncEvaluations: r.most,
		Converger: &gonum.FunctionConverge{Absolute: 1e-6, Iterations: 3},
	}
	var method gonum.Method = &gonum.LBFGS{Store: 6}
	if r.alone() { // down to the optimum: a front's points are only improved as long as that is cheap
		settings.GradientThreshold = 1e-9
		settings.Converger = &gonum.FunctionConverge{Absolute: 1e-10, Relative: 1e-8, Iterations: 5}
		if len(t) <= axesMost {
			method = &gonum.BFGS{} // its time grows with the square of the variables
		}
	}
	// Errors here mean "no further" (a line search at the accuracy's end, the budget): what
	// counts are the points visited on the way.
	result, _ := gonum.Minimize(problem, t, settings, method)
	if result == nil || r.last == nil {
		return nil
	}
	return r.last
}

// angles gives the free variables' angles. A variable that sits on a bound and is pushed
// against it is held; one that would come off it starts a little inside, because exactly
// at the bound the angle has no slope.
func (r *run) angles(m *member, grad []float64) []float64 {
	const inside = 1e-4
	r.free = r.free[:0]
	var t []float64
	for _, i := range r.space.continuous() {
		u := m.u[i]
		if u <= 1e-9 && grad[i] >= 0 || u >= 1-1e-9 && grad[i] <= 0 {
			continue
		}
		r.free = append(r.free, i)
		t = append(t, math.Asin(2*min(max(u, inside), 1-inside)-1))
	}
	return t
}

// at evaluates the Lagrangian at angles t.
func (r *run) at(from *member, t []float64) float64 {
	u := append([]float64(nil), from.u...)
	for k, i := range r.free {
		u[i] = (1 + math.Sin(t[k])) / 2
	}
	m := r.visit(u)
	if m == nil {
		return math.Inf(1)
	}
	v := r.lagrangian(m)
	if !math.IsInf(v, 1) {
		r.last, r.lastT = m, append(r.lastT[:0], t...)
	}
	return v
}

// slopeAt writes the Lagrangian's derivative by t; zeros, which end the run, where there
// is none.
func (r *run) slopeAt(g []float64, from *member, t []float64) {
	clear(g)
	m := r.last
	if m == nil || !slices.Equal(r.lastT, t) {
		if math.IsInf(r.at(from, t), 1) {
			return
		}
		m = r.last
	}
	grad := make([]float64, len(r.space.variables))
	if !r.slope(grad, m) {
		return
	}
	for k, i := range r.free {
		g[k] = grad[i] * math.Cos(t[k]) / 2
	}
}
