package run

import (
	"context"
	"errors"
	"fmt"
	"maps"
	"runtime"
	"time"

	"golang.org/x/sync/errgroup"

	"forkfront/jobs/cases"
	"forkfront/jobs/process"
	"forkfront/jobs/progress"
	"forkfront/jobs/store"
	"forkfront/jobs/tables"
	"forkfront/objectives"
	"forkfront/optimize"
	"forkfront/optimize/arithmetic"
	"forkfront/results/record"
)

// Processors is how many evaluations run at once.
func (w *Work) Processors() int {
	if w.Workers > 0 {
		return w.Workers
	}
	return runtime.GOMAXPROCS(0)
}

// SearchAll searches the listed cases that are not finished, several side by side: while one ranks its population,
// the processors evaluate the others. Each case finds the same front as when it is searched by itself.
func (r *Runner) SearchAll(ctx context.Context, listed []*cases.Case, which []int) error {
	g := cases.NewGate(r.Work.Processors())
	group, together := errgroup.WithContext(ctx)
	group.SetLimit(cap(g))
	course := progress.NewTracker(len(which), time.Now())
	for at, i := range which {
		if together.Err() != nil {
			break
		}
		d, trouble := r.Saved.LoadCase(i, listed[i].Name)
		if err := mixed(trouble); err != nil {
			return errors.Join(err, group.Wait())
		}
		if d != nil && r.Job.Keep == tables.KeepAll {
			if trouble = r.Saved.Journal(i, listed[i]).Read(d.Result.Candidates, store.Skip); trouble != nil {
				d = nil
			}
		}
		r.Log.Trouble(trouble)
		if d != nil {
			course.Before(at, 1)
			course.Finished(at)
			continue
		}
		listed[i].Gate = g
		group.Go(func() error { return r.one(together, listed[i], i, progress.CaseProgress{Tracker: course, At: at}) })
	}
	if err := group.Wait(); err != nil {
		return err
	}
	return ctx.Err()
}

// mixed is bad input for a file that was computed with other arithmetic than this program's: searching its case
// again, as for a damaged one, would discard work that another build can continue.
func mixed(trouble error) error {
	var m *arithmetic.Mismatch
	if errors.As(trouble, &m) {
		return process.BadInput(m)
	}
	return nil
}

// one searches case i of the job, from its last state if there is one, and keeps the result.
func (r *Runner) one(ctx context.Context, c *cases.Case, i int, p progress.CaseProgress) error {
	left, trouble := r.Saved.LoadState(i)
	if err := mixed(trouble); err != nil {
		return err
	}
	r.Log.Trouble(trouble)
	begun := left != nil
	if left == nil {
		var err error
		if left, err = r.roundBefore(ctx, c, i, p, false); err != nil {
			return err
		}
	}
	d, err := r.search(ctx, c, i, p, left, begun)
	if left != nil && (errors.Is(err, optimize.ErrStateDamaged) || errors.Is(err, optimize.ErrStateVersion) || errors.Is(err, optimize.ErrStateForeign) || errors.Is(err, store.ErrJournal)) {
		r.Log.Trouble(fmt.Errorf("case %s starts again: %w", c.Name, err))
		if left, err = r.roundBefore(ctx, c, i, p, true); err == nil {
			d, err = r.search(ctx, c, i, p, left, false)
		}
	}
	if err != nil {
		return err
	}
	p.Tracker.Finished(p.At)
	return r.Saved.Done(i, *d)
}

// search searches case i from a state, if there is one; begun tells that it is not one at which a round of a race begins.
func (r *Runner) search(ctx context.Context, c *cases.Case, i int, p progress.CaseProgress, left *store.AtWork, begun bool) (*store.DoneCase, error) {
	settings := Settings(r.Job, c, r.Work.Processors())
	if r.raceRound != nil {
		settings.Evaluations, settings.Until = optimize.Unlimited, r.raceRound.until
	}
	p.Began, p.Budget, p.Wall = time.Now(), settings.Evaluations, settings.MaxWall
	if settings.Until > 0 {
		p.Budget = settings.Until
	}
	work := store.AtWork{Case: i, Violated: map[string]int{}}
	c.Failures() // of a search that was abandoned
	if left != nil {
		work.Number, work.History, settings.Resume = left.Number, left.History, left.State
		maps.Copy(work.Violated, left.Violated)
		p.Began = p.Began.Add(-time.Duration(left.Seconds * float64(time.Second)))
		if n := len(left.History); n > 0 {
			p.Tracker.Before(p.At, p.Part(left.History[n-1].Evaluations, time.Now()))
		}
		if begun {
			r.Log.Resumed(c, len(left.History))
		}
	}
	settings.Progress = func(g optimize.Generation) {
		work.History = append(work.History, generation(c, g))
		broken := c.Failures()
		for name, n := range broken {
			work.Violated[name] += n
		}
		r.Log.Generation(c, g, broken, p)
	}
	var kept *store.Journal
	if r.Job.Keep == tables.KeepAll {
		var err error
		if kept, err = r.Saved.Journal(i, c).Open(); err != nil {
			return nil, err
		}
		defer kept.Close()
		settings.Observe = kept.Add
	}
	settings.CheckpointEvery = r.Work.Every
	settings.Checkpoint = func(state []byte) error {
		if kept != nil {
			if err := kept.Sync(); err != nil {
				return err
			}
		}
		work.Number++
		work.State, work.Seconds = state, time.Since(p.Began).Seconds()
		return r.Saved.Save(work)
	}
	result, err := optimize.Search(ctx, c.Problem(), settings)
	if err != nil {
		return nil, fmt.Errorf("case %s: %w", c.Name, err)
	}
	if r.raceRound != nil && !r.raceRound.last {
		if err := r.Saved.Pause(work); err != nil {
			return nil, err
		}
	}
	if kept != nil {
		if err := kept.Finish(result.Candidates, r.Saved.Shared); err != nil {
			return nil, err
		}
	}
	if result.Stop == "" { // no generation was left to report it
		result.Stop = "evaluations"
	}
	done := record.Case{
		Name: c.Name, Stop: result.Stop, Evaluations: result.Evaluations,
		Feasible: result.FeasibleEvaluations, Front: len(result.Front), Seconds: time.Since(p.Began).Seconds(), Violated: work.Violated,
	}
	done.Known, done.CoveredPct = result.Known, 100*result.Covered
	done.Simulated = result.Measured
	for k, a := range result.Agreements {
		done.Predicted = append(done.Predicted, record.Predicted{Measure: objectives.At(c.EventMeasures()[k]).Name, Count: a.Count, RankCorrelation: a.RankCorrelation, RMSError: a.RMSError})
	}
	r.Log.Finished(&done, result.GradientEvaluations, r.raceRound != nil)
	return &store.DoneCase{Result: *result, History: work.History, Record: done}, nil
}
