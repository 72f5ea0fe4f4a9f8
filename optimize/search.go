package optimize

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"slices"
)

var errWall = errors.New("wall time is up")

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
	limited := ctx
	if s.MaxWall > 0 {
		var cancel context.CancelFunc
		limited, cancel = context.WithTimeoutCause(ctx, s.MaxWall, errWall)
		defer cancel()
	}
	e := newEngine(limited, p, s)
	w := watch{engine: e}
	err := e.minimise(w.done)
	switch {
	case err == nil:
	case ctx.Err() != nil:
		w.stop = "cancelled"
		err = fmt.Errorf("optimize: stopped after %d evaluations: %w", e.used, ctx.Err())
	case errors.Is(context.Cause(limited), errWall):
		w.stop, err = "wall time", nil
	default:
		w.stop = "failed"
	}
	return e.result(w.stop), err
}

// step is one generation, or one burst of the gradient stage.
func (e *engine) step() error {
	if err := e.ctx.Err(); err != nil {
		return err
	}
	var err error
	stage := "genetic"
	switch {
	case e.population == nil:
		err = e.begin()
	case e.gradient.due(e):
		stage = "gradient"
		err = e.gradient.burst(e)
	default:
		err = e.breed()
	}
	if err != nil {
		return err
	}
	e.generations++
	e.report(stage)
	return nil
}

// report tells Progress and the stagnation count how the archive stands.
func (e *engine) report(stage string) {
	s := &e.settings
	if s.Progress == nil && s.StagnationGenerations == 0 {
		return
	}
	if e.frame.Low == nil && len(e.archive.members) > 0 {
		e.frame.set(e.archive.members, s.Seed)
	}
	v := e.frame.volume(e.archive.members)
	if v > e.frame.Best*(1+1e-9) || e.frame.Low == nil {
		e.frame.Best, e.frame.Since = v, e.generations
	}
	if s.Progress != nil {
		s.Progress(Generation{
			Number: e.generations, Evaluations: e.used, Feasible: e.feasible,
			ArchiveSize: len(e.archive.members), Hypervolume: v, Stage: stage,
		})
	}
}

// watch decides when a search is over, and remembers why.
type watch struct {
	engine *engine
	stop   string
}

func (w *watch) done() bool {
	e := w.engine
	n := e.settings.StagnationGenerations
	switch {
	case e.left() < 1:
		w.stop = "evaluations"
	case n > 0 && e.generations-e.frame.Since >= n:
		w.stop = "stagnation"
	}
	return w.stop != ""
}

func (e *engine) result(stop string) *Result {
	e.archive.thin(e.settings.ArchiveLimit)
	chosen := choose(e.archive.members, e.settings.FrontSize, e.settings.Seed)
	slices.SortFunc(chosen, func(a, b *member) int { return cmp.Compare(a.number, b.number) })
	r := &Result{
		Evaluations: e.used, Stop: stop, Generations: e.generations,
		FeasibleEvaluations: e.feasible, GradientEvaluations: e.gradient.used,
	}
	for _, m := range chosen {
		r.Front = append(r.Front, m.candidate())
	}
	return r
}
