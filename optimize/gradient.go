package optimize

import (
	"cmp"
	"slices"

	"forkfront/optimize/descent"
	"forkfront/optimize/matrix"
	"forkfront/optimize/population"
	"forkfront/optimize/spacing"
)

// gradientStart is the share of the budget after which the stage begins. Later, ZDT2, ZDT3 and DTLZ2 had less after
// a quarter of the evaluations.
func (e *engine) gradientStart() float64 {
	if e.singleObjective() {
		return descentStart
	}
	return 0.4
}

// gradientCost is what a gradient is charged: that of differences where the problem has
// no derivative, else three evaluations, the usual price of a reverse sweep.
func (e *engine) gradientCost() float64 {
	switch {
	case !e.differentiates():
		return float64(len(e.space.Continuous()))
	case e.settings.GradientCost > 0:
		return e.settings.GradientCost
	}
	return 3
}

// differentiates tells whether derivatives of the problem are used.
func (e *engine) differentiates() bool {
	_, ok := e.problem.(Differentiable)
	return ok && e.settings.GradientShare > 0 && e.late == nil
}

// gradientDue reports whether it is the gradient stage's turn.
func (e *engine) gradientDue() bool {
	g := &e.gradient
	share, budget := e.stageShare(), e.horizon()
	if share == 0 || len(e.archive.Members) == 0 || len(e.space.Continuous()) == 0 {
		return false
	}
	start := min(e.gradientStart(), 1-share) * budget
	if float64(e.used) < start {
		return false
	}
	if g.pause > 0 {
		g.pause--
		return false
	}
	pace := share * budget * (float64(e.used) - start) / (budget - start)
	if e.openEnded() {
		pace = share * float64(e.used)
	}
	return float64(g.used) <= pace && e.gradientRemaining() >= int(2*e.gradientCost())+4
}

// gradientRemaining is what the stage may still spend.
func (e *engine) gradientRemaining() int {
	return min(int(e.stageShare()*e.horizon())-e.gradient.used, e.remaining())
}

// burst makes some runs side by side and takes in what they evaluated, in their order; false where nothing is left to polish.
func (e *engine) burst() (made bool, err error) {
	g := &e.gradient
	runs := e.plan()
	if len(runs) == 0 {
		g.backOff(0, 1)
		return false, nil
	}
	err = e.pool.Each(e.working, len(runs), func(p Problem, i int) { runs[i].Search(e.working, p) })
	if err != nil {
		return true, err
	}
	before := g.used
	gain, paid := e.gained(runs), 0
	var finds []*population.Member
	for _, r := range runs {
		spent := r.Spent()
		e.used, g.used = e.used+spent, g.used+spent
		if err := e.register(r.Visited); err != nil {
			return true, err
		}
		r.Start.Polished = true
		if r.Best != nil {
			r.Best.Polished = true
			finds = append(finds, r.Best)
		}
		if r.Gain > 0.01 {
			paid++
		}
	}
	if e.singleObjective() {
		g.backOff(paid, len(runs))
		e.adopt(runs)
		return true, nil
	}
	g.stage.add(gain, g.used-before, stageKept)
	g.compare()
	for _, m := range e.population {
		e.scaling.SetViolation(m)
	}
	e.population = e.survive(append(slices.Clone(e.population), finds...), e.populationSize())
	return true, nil
}

// plan chooses the runs: first each objective's best end, which nothing else reaches, then
// members not yet polished and midpoints of polished neighbours, widest gap first.
func (e *engine) plan() []*descent.Run {
	if e.singleObjective() {
		return e.descents()
	}
	g := &e.gradient
	span := e.archive.Spans()
	common := e.descentSettings(span)
	left := e.gradientRemaining()
	var runs []*descent.Run
	add := func(r *descent.Run, most int) bool {
		r.Budget = min(most, left)
		if float64(r.Budget) < 2*common.GradientCost+4 {
			return false
		}
		left -= r.Budget
		runs = append(runs, r)
		return true
	}
	for g.extremes < len(e.objectives) {
		r := descent.New(common, e.archive.Members[spacing.BestOf(population.Points(e.archive.Members), g.extremes)])
		r.Extreme = g.extremes
		if !add(r, int(evalsPerExtreme+10*common.GradientCost)) {
			return runs
		}
		g.extremes++
	}
	for _, s := range e.starts(span) {
		r := descent.New(common, s.from)
		r.Partner = s.to
		r.Reference = make([]float64, len(span))
		for i, f := range s.from.Outcome.F {
			r.Reference[i] = f + 0.15*span[i]
			if s.to != nil {
				r.Reference[i] = max(f, s.to.Outcome.F[i]) + 1e-3*span[i]
			}
		}
		if len(runs) >= g.burstSize() || !add(r, int(evalsPerRun+4*common.GradientCost)) {
			break
		}
	}
	return runs
}

// runStart is where a run may begin: at a member, or halfway to another one.
type runStart struct {
	from, to *population.Member
	gap      float64
}

// starts lists them, the widest gap first. Gaps are measured along the front with two
// objectives, else to the nearest of a sample.
func (e *engine) starts(span []float64) []runStart {
	var all []runStart
	consider := func(m, next *population.Member, gap float64) {
		switch {
		case !m.Polished:
			all = append(all, runStart{m, nil, gap})
		case next != nil && next.Polished && e.sameDiscrete(m, next):
			all = append(all, runStart{m, next, gap})
		}
	}
	if members := e.archive.Members; len(span) == 2 {
		for i, m := range members {
			if i+1 < len(members) {
				consider(m, members[i+1], population.SquaredGap(m, members[i+1], span))
			} else {
				consider(m, nil, 0)
			}
		}
	} else {
		places := matrix.Zeros(len(members), len(span))
		for i, m := range members {
			for j, f := range m.Outcome.F {
				places[i][j] = f / span[j]
			}
		}
		near := spacing.NewNeighbours(places)
		for _, i := range e.gradient.sample(len(members), 200) {
			if k, gap := near.Nearest(i); k != i {
				consider(members[i], members[k], gap)
			} else {
				consider(members[i], nil, 0)
			}
		}
	}
	slices.SortStableFunc(all, func(a, b runStart) int { return cmp.Compare(b.gap, a.gap) })
	return all
}

func (e *engine) sameDiscrete(a, b *population.Member) bool {
	for i := range e.space.Variables {
		if e.space.Variables[i].Levels > 0 && a.X[i] != b.X[i] {
			return false
		}
	}
	return true
}

// descentSettings are those of runs; span is the range of the objectives by which they scale them.
func (e *engine) descentSettings(span []float64) descent.Settings {
	return descent.Settings{
		Space: &e.space, Span: span, Constraints: e.constraints, GradientCost: e.gradientCost(), Exact: e.differentiates(),
		Blank: e.newMembers, Assess: e.late.assess,
	}
}

// gained is what the ends of runs are worth to the archive as it is.
func (e *engine) gained(runs []*descent.Run) float64 {
	if e.singleObjective() {
		return 0
	}
	span, gain := e.archive.Spans(), 0.0
	for _, r := range runs {
		if r.Best != nil {
			gain += e.archive.Novelty(r.Best, span)
		}
	}
	return gain
}
