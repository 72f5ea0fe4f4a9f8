package optimize

import (
	"cmp"
	randv2 "math/rand/v2"
	"slices"

	"forkfront/optimize/spacing"
)

// gradientStage decides when gradients are used, and where they start.
//
// It begins after two fifths of the budget (see descent.go for one objective; earlier when its share
// is larger), since too few starts miss parts of a front, and then keeps pace with the budget
// so that its share is spent at the end and never exceeded. While an evaluation spent here gains the archive less than
// one spent on variation, it pauses, twice as long each time, and leaves its evaluations to the genetic stage.
type gradientStage struct {
	used             int
	extremes         int // objectives whose best end has been sought
	pause            int // generations to sit out
	backoff          int
	stage, variation yield // what each gained per evaluation lately
	source           source
	rng              *randv2.Rand // draws from source
}

func newGradientStage(seed uint64) gradientStage {
	from := newSource(seed, streamGradient)
	return gradientStage{source: from, rng: randv2.New(from)}
}

const (
	runsPerBurst    = 8
	runsPerProbe    = 2 // while the stage is paused
	evalsPerRun     = 24
	evalsPerExtreme = 60
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
		return float64(len(e.space.continuous()))
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

func (g *gradientStage) due(e *engine) bool {
	share, budget := e.stageShare(), e.horizon()
	if share == 0 || len(e.archive.members) == 0 || len(e.space.continuous()) == 0 {
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
	return float64(g.used) <= pace && g.remaining(e) >= int(2*e.gradientCost())+4
}

// remaining is what the stage may still spend.
func (g *gradientStage) remaining(e *engine) int {
	return min(int(e.stageShare()*e.horizon())-g.used, e.remaining())
}

// burst makes some runs side by side and takes in what they evaluated, in their order.
func (g *gradientStage) burst(e *engine) error {
	runs := g.plan(e)
	if len(runs) == 0 { // nothing left to polish
		g.backOff(0, 1)
		return e.vary()
	}
	err := e.pool.Each(e.working, len(runs), func(p Problem, i int) { runs[i].search(e.working, p) })
	if err != nil {
		return err
	}
	before := g.used
	gain, paid := e.gained(runs), 0
	var finds []*member
	for _, r := range runs {
		spent := r.spent()
		e.used, g.used = e.used+spent, g.used+spent
		if err := e.register(r.visited); err != nil {
			return err
		}
		r.start.polished = true
		if r.best != nil {
			r.best.polished = true
			finds = append(finds, r.best)
		}
		if r.gain > 0.01 {
			paid++
		}
	}
	if e.singleObjective() {
		g.backOff(paid, len(runs))
		e.adopt(runs)
		return nil
	}
	g.stage.add(gain, g.used-before, stageKept)
	g.compare()
	for _, m := range e.population {
		e.scaling.setViolation(m)
	}
	e.population = e.survive(append(slices.Clone(e.population), finds...), e.populationSize())
	return nil
}

// compare pauses the stage when variation gains more per evaluation.
func (g *gradientStage) compare() {
	if g.stage.rate() >= g.variation.rate() {
		g.backOff(1, 1)
		return
	}
	g.backOff(0, 1)
}

// backOff pauses the stage when less than a quarter of its runs gained.
func (g *gradientStage) backOff(paid, runs int) {
	if 4*paid >= runs {
		g.backoff = 0
		return
	}
	g.backoff = min(2*g.backoff+1, 63)
	g.pause = g.backoff
}

// plan chooses the runs: first each objective's best end, which nothing else reaches, then
// members not yet polished and midpoints of polished neighbours, widest gap first.
func (g *gradientStage) plan(e *engine) []*localSearch {
	if e.singleObjective() {
		return g.descents(e)
	}
	span := e.spans()
	left := g.remaining(e)
	var runs []*localSearch
	add := func(r *localSearch, most int) bool {
		r.budget = min(most, left)
		if float64(r.budget) < 2*r.gradientCost+4 {
			return false
		}
		left -= r.budget
		runs = append(runs, r)
		return true
	}
	for g.extremes < len(e.objectives) {
		r := e.newLocalSearch(e.archive.members[spacing.BestOf(points(e.archive.members), g.extremes)], span)
		r.extreme, r.reference = g.extremes, nil
		if !add(r, int(evalsPerExtreme+10*r.gradientCost)) {
			return runs
		}
		g.extremes++
	}
	for _, s := range g.starts(e, span) {
		r := e.newLocalSearch(s.from, span)
		r.partner = s.to
		r.reference = make([]float64, len(span))
		for i, f := range s.from.outcome.F {
			r.reference[i] = f + 0.15*span[i]
			if s.to != nil {
				r.reference[i] = max(f, s.to.outcome.F[i]) + 1e-3*span[i]
			}
		}
		if len(runs) >= g.burstSize() || !add(r, int(evalsPerRun+4*r.gradientCost)) {
			break
		}
	}
	return runs
}

// burstSize is how many runs a burst makes. While the stage is paused a few tell whether that is to change.
func (g *gradientStage) burstSize() int {
	if g.backoff > 0 {
		return runsPerProbe
	}
	return runsPerBurst
}

// runStart is where a run may begin: at a member, or halfway to another one.
type runStart struct {
	from, to *member
	gap      float64
}

// starts lists them, the widest gap first. Gaps are measured along the front with two
// objectives, else to the nearest of a sample.
func (g *gradientStage) starts(e *engine, span []float64) []runStart {
	var all []runStart
	consider := func(m, next *member, gap float64) {
		switch {
		case !m.polished:
			all = append(all, runStart{m, nil, gap})
		case next != nil && next.polished && e.sameDiscrete(m, next):
			all = append(all, runStart{m, next, gap})
		}
	}
	if members := e.archive.members; len(span) == 2 {
		for i, m := range members {
			if i+1 < len(members) {
				consider(m, members[i+1], squaredGap(m, members[i+1], span))
			} else {
				consider(m, nil, 0)
			}
		}
	} else {
		places := zeros(len(members), len(span))
		for i, m := range members {
			for j, f := range m.outcome.F {
				places[i][j] = f / span[j]
			}
		}
		near := spacing.NewNeighbours(places)
		for _, i := range g.sample(len(members), 200) {
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

func (g *gradientStage) sample(n, most int) []int {
	order := g.rng.Perm(n)
	return order[:min(n, most)]
}

func (e *engine) sameDiscrete(a, b *member) bool {
	for i := range e.space.variables {
		if e.space.variables[i].Levels > 0 && a.x[i] != b.x[i] {
			return false
		}
	}
	return true
}

// newLocalSearch is a run from a member; span is the range of the objectives by which it scales them.
func (e *engine) newLocalSearch(from *member, span []float64) *localSearch {
	return &localSearch{
		space: &e.space, start: from, span: span, gradientCost: e.gradientCost(), constraints: e.constraints,
		hasGradient: e.differentiates(), multiplier: make([]float64, e.constraints), penalty: 10,
		late: e.late,
	}
}
