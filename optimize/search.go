package optimize

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	randv2 "math/rand/v2"
	"runtime"
	"slices"
	"time"

	"forkfront/optimize/archive"
	"forkfront/optimize/population"
	"forkfront/optimize/problem"
	"forkfront/optimize/random"
	"forkfront/optimize/survival"
	"forkfront/optimize/variation"
	"forkfront/optimize/workers"
)

// Search looks for the best compromises of p and returns them. The same problem, seed and
// settings give the same front to the bit, whatever the number of workers, unless MaxWall
// or ctx cut it short.
//
// When ctx ends, what was found so far comes back together with an error that wraps that
// of ctx. A panic in Evaluate or Gradient comes back as an error too.
func Search(ctx context.Context, p Problem, s Settings) (*Result, error) {
	if err := problem.Validate(p); err != nil {
		return nil, err
	}
	if err := s.validate(p); err != nil {
		return nil, err
	}
	e := newEngine(p, s)
	if s.Resume != nil {
		if err := e.restore(s.Resume); err != nil {
			return nil, err
		}
	}
	release := e.limitTime(ctx)
	defer release()
	w := watch{engine: e}
	err := e.minimise(w.done)
	if err == nil && s.Until > 0 {
		err = e.save()
	}
	if wall := ctx.Err() == nil && errors.Is(context.Cause(e.stopping), errWall); err == nil || wall {
		if wall {
			w.stop = "wall time"
		}
		err = e.verify(ctx)
	}
	switch {
	case err == nil:
	case errors.Is(err, errCheckpoint):
		w.stop = "failed"
	case ctx.Err() != nil:
		w.stop = "cancelled"
		err = errors.Join(fmt.Errorf("optimize: stopped after %d evaluations: %w", e.used, ctx.Err()), e.save())
	default:
		w.stop = "failed"
	}
	e.keepKnown()
	return e.result(w.stop), err
}

// watch decides when a search is over, and remembers why.
type watch struct {
	engine *engine
	stop   string
}

func (w *watch) done() bool {
	e := w.engine
	switch {
	case e.remaining() < 1:
		w.stop = "evaluations"
	case e.growth.Stagnates(e.generations, e.settings.StagnationGenerations):
		w.stop = "stagnation"
	}
	return w.stop != ""
}

// scarce is how many evaluations there are per feasible one where a result has near misses.
const scarce = 1000

func (e *engine) result(stop string) *Result {
	if e.settings.FrontSize == 0 {
		e.archive.Thin(e.settings.ArchiveLimit)
	}
	members := e.archive.Members
	if e.settings.Plain {
		members = population.Nondominated(e.population)
	}
	chosen := archive.Choose(members, e.settings.FrontSize, e.settings.Seed, e.pool.Parts)
	slices.SortFunc(chosen, func(a, b *population.Member) int { return cmp.Compare(a.Number, b.Number) })
	r := &Result{
		Evaluations: e.used, Candidates: e.number, Stop: stop, Generations: e.generations,
		FeasibleEvaluations: e.feasible, GradientEvaluations: e.gradient.used,
		Known: len(members), Covered: archive.Covered(members, chosen),
	}
	if e.late != nil {
		r.Measured, r.Agreements = len(e.late.known), e.late.agreements()
	}
	if e.feasible*scarce < e.used {
		r.Nearest = candidates(archive.NearMisses(slices.Concat(e.population, e.infeasible, e.evolution.replaced)))
	}
	r.Front = candidates(chosen)
	return r
}

// candidates are members as a result has them.
func candidates(members []*population.Member) (all []Candidate) {
	for _, m := range members {
		all = append(all, m.Candidate())
	}
	return all
}

func newEngine(p Problem, s Settings) *engine {
	e := &engine{
		identity: identity(p, &s), began: time.Now(), saved: time.Now(), problem: p, settings: s,
		space: problem.Space{Variables: p.Variables()}, objectives: p.Objectives(), constraints: len(p.Constraints()), pool: workers.New(workerProblems(p, s.Workers)), size: s.Population,
	}
	m := len(e.objectives)
	if e.size == 0 {
		e.size = e.chosenPopulation()
	}
	if e.size = max(e.size, 4); e.singleObjective() {
		e.evolution.size = e.size
	}
	e.settings.ArchiveLimit = s.ArchiveLimit
	if s.ArchiveLimit == 0 {
		e.settings.ArchiveLimit = 2500
	}
	e.gradient = newGradientStage(s.Seed)
	_, niched := p.(Niched)
	e.source = random.NewSource(s.Seed, random.Variation)
	e.operators = variation.New(variation.Settings{
		Space: &e.space, Objectives: m, Constraints: e.constraints, Plain: s.Plain, Whole: !e.manyObjectives(), Niched: niched,
	}, randv2.New(e.source))
	e.selection = survival.New(survival.Settings{
		Objectives: m, Constraints: e.constraints, Size: e.size, Plain: s.Plain,
		KeepEnds: !s.Plain && !e.manyObjectives() && !e.singleObjective(), Niched: niched, Seed: s.Seed, Parts: e.pool.Parts,
	})
	e.archive = archive.New(e.objectives, e.settings.ArchiveLimit)
	e.late = newLateStage(p, &s)
	e.scaling = make(population.ConstraintScale, e.constraints)
	e.growth = archive.NewGrowth(s.Seed)
	return e
}

// chosenPopulation is what the trials on published problems used for 2, 3 and 6
// objectives, and the sizes between; with one objective it follows from the budget.
func (e *engine) chosenPopulation() int {
	switch {
	case !e.singleObjective():
		return [...]int{0, 60, 100, 92, 108, 120, 132, 144, 156}[min(len(e.objectives), 8)]
	case e.settings.Evaluations < Unlimited:
		return populationFor(e.settings.Evaluations, len(e.space.Variables))
	}
	return endlessSize * len(e.space.Variables)
}

// workerProblems returns a problem for each worker.
func workerProblems(p Problem, workers int) []Problem {
	if workers == 0 {
		workers = runtime.GOMAXPROCS(0)
	}
	problems := make([]Problem, workers)
	for i := range problems {
		problems[i] = p
		if f, ok := p.(PerWorker); ok {
			problems[i] = f.Fork()
		}
	}
	return problems
}
