package optimize

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"slices"
)

// Search looks for the best compromises of p and returns them. The same problem, seed and
// settings give the same front to the bit, whatever the number of workers, unless MaxWall
// or ctx cut it short.
//
// When ctx ends, what was found so far comes back together with an error that wraps that
// of ctx. A panic in Evaluate or Gradient comes back as an error too.
func Search(ctx context.Context, p Problem, s Settings) (*Result, error) {
	if err := validate(p); err != nil {
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

// report tells Progress and the stagnation count how the archive stands.
func (e *engine) report(stage string) {
	s := &e.settings
	if s.Progress == nil && s.StagnationGenerations == 0 {
		return
	}
	if e.frame.Low == nil && len(e.archive.members) > 0 {
		e.frame.fit(e.archive.members, s.Seed)
	}
	latest := e.frame.unseen(e.archive.members, e.archive.marks)
	v := e.frame.volume(e.archive.members, latest)
	v = e.frame.extend(e.archive.members, latest, s.Seed, v)
	if v > e.frame.Best*(1+1e-9) || e.frame.Low == nil && e.lessViolated() {
		e.frame.Best, e.frame.BestAt = v, e.generations
	}
	if s.Progress != nil {
		s.Progress(Generation{
			Number: e.generations, Evaluations: e.used, Feasible: e.feasible,
			ArchiveSize: len(e.archive.members), Hypervolume: v, Stage: stage,
		})
	}
}

// lessViolated tells whether the population came nearer to what is allowed than any before it.
func (e *engine) lessViolated() bool {
	least := e.frame.LeastViolation
	for _, m := range e.population {
		least = min(least, m.violation)
	}
	less := least < e.frame.LeastViolation*(1-1e-3)
	if less {
		e.frame.LeastViolation = least
	}
	return less
}

// patience is how many times longer a search may stagnate while it has found nothing feasible: its violation
// pauses where one constraint has to give way for another.
const patience = 5

// watch decides when a search is over, and remembers why.
type watch struct {
	engine *engine
	stop   string
}

func (w *watch) done() bool {
	e := w.engine
	n := e.settings.StagnationGenerations
	if e.frame.Low == nil {
		n *= patience
	}
	switch {
	case e.remaining() < 1:
		w.stop = "evaluations"
	case n > 0 && e.generations-e.frame.BestAt >= n:
		w.stop = "stagnation"
	}
	return w.stop != ""
}

func (e *engine) result(stop string) *Result {
	if e.settings.FrontSize == 0 {
		e.archive.thin(e.settings.ArchiveLimit)
	}
	members := e.archive.members
	if e.settings.Plain {
		members = nondominatedMembers(e.population)
	}
	chosen := chooseFront(members, e.settings.FrontSize, e.settings.Seed, e.pool.Parts)
	slices.SortFunc(chosen, func(a, b *member) int { return cmp.Compare(a.number, b.number) })
	r := &Result{
		Evaluations: e.used, Candidates: e.number, Stop: stop, Generations: e.generations,
		FeasibleEvaluations: e.feasible, GradientEvaluations: e.gradient.used,
		Known: len(members), Covered: covered(members, chosen),
	}
	if e.late != nil {
		r.Measured, r.Agreements = len(e.late.known), e.late.agreements()
	}
	if e.feasible*scarce < e.used {
		r.Nearest = nearest(slices.Concat(e.population, e.infeasible, e.evolution.replaced))
	}
	for _, m := range chosen {
		r.Front = append(r.Front, m.candidate())
	}
	return r
}
