package jobs

import (
	"context"
	"errors"
	"fmt"
	"maps"
	"runtime"
	"time"

	"golang.org/x/sync/errgroup"

	"forkfront/optimize"
	"forkfront/results/record"
)

// gate lets so many evaluations run at once, over all cases at work.
type gate chan struct{}

func newGate(n int) gate { return make(gate, n) }

func (g gate) enter() {
	if g != nil {
		g <- struct{}{}
	}
}

func (g gate) leave() {
	if g != nil {
		<-g
	}
}

// processors is how many evaluations run at once.
func (w *work) processors() int {
	if w.workers > 0 {
		return w.workers
	}
	return runtime.GOMAXPROCS(0)
}

// searchAll searches those of the listed cases that are not done, several side by side: while one
// ranks its population the processors are with the others. Each case finds what it finds alone.
func (r *runner) searchAll(ctx context.Context, cases []*Case, which []int) error {
	g := newGate(r.work.processors())
	group, together := errgroup.WithContext(ctx)
	group.SetLimit(cap(g))
	course := newCourse(len(which), time.Now())
	for at, i := range which {
		if together.Err() != nil {
			break
		}
		d, trouble := r.saved.loadCase(i)
		if d != nil && r.job.Keep == keepAll {
			if trouble = readJournal(r.saved.journalPath(i), cases[i], d.Result.Candidates, look); trouble != nil {
				d = nil
			}
		}
		r.log.trouble(trouble)
		if d != nil {
			course.before(at, 1)
			course.finished(at)
			continue
		}
		cases[i].gate = g
		group.Go(func() error { return r.one(together, cases[i], i, progress{course: course, at: at}) })
	}
	if err := group.Wait(); err != nil {
		return err
	}
	return ctx.Err()
}

// one searches case i of the job from where it was left, and keeps what it came to.
func (r *runner) one(ctx context.Context, c *Case, i int, p progress) error {
	left, trouble := r.saved.loadState(i)
	r.log.trouble(trouble)
	d, err := r.search(ctx, c, i, p, left)
	if left != nil && (errors.Is(err, optimize.ErrStateDamaged) || errors.Is(err, optimize.ErrStateVersion) || errors.Is(err, optimize.ErrStateForeign) || errors.Is(err, errJournal)) {
		r.log.trouble(fmt.Errorf("case %s starts anew: %w", c.Name, err))
		d, err = r.search(ctx, c, i, p, nil)
	}
	if err != nil {
		return err
	}
	p.course.finished(p.at)
	return r.saved.done(i, *d)
}

func (r *runner) search(ctx context.Context, c *Case, i int, p progress, left *atWork) (*doneCase, error) {
	settings := r.job.settings(c, r.work.processors())
	p.began, p.budget, p.wall = time.Now(), settings.Evaluations, settings.MaxWall
	work := atWork{Case: i, Broken: map[string]int{}}
	c.failures() // of a search that was given up
	if left != nil {
		work.Number, work.History, settings.Resume = left.Number, left.History, left.State
		maps.Copy(work.Broken, left.Broken)
		p.began = p.began.Add(-time.Duration(left.Seconds * float64(time.Second)))
		if n := len(left.History); n > 0 {
			p.course.before(p.at, p.part(left.History[n-1].Evaluations, time.Now()))
		}
		r.log.resumed(c, len(left.History))
	}
	settings.Progress = func(g optimize.Generation) {
		work.History = append(work.History, generation(c, g))
		broken := c.failures()
		for name, n := range broken {
			work.Broken[name] += n
		}
		r.log.generation(c, g, broken, p)
	}
	var kept *journal
	if r.job.Keep == keepAll {
		var err error
		if kept, err = openJournal(r.saved.journalPath(i), c); err != nil {
			return nil, err
		}
		defer kept.close()
		settings.Seen = kept.add
	}
	settings.CheckpointEvery = r.work.every
	settings.Checkpoint = func(state []byte) error {
		if kept != nil {
			if err := kept.sync(); err != nil {
				return err
			}
		}
		work.Number++
		work.State, work.Seconds = state, time.Since(p.began).Seconds()
		return r.saved.save(work)
	}
	result, err := optimize.Search(ctx, c.Problem(), settings)
	if err != nil {
		return nil, fmt.Errorf("case %s: %w", c.Name, err)
	}
	if kept != nil {
		if err := kept.finish(result.Candidates, r.saved.shared); err != nil {
			return nil, err
		}
	}
	if result.Stop == "" { // no generation came to ask
		result.Stop = "evaluations"
	}
	ended := record.Case{
		Name: c.Name, Stop: result.Stop, Evaluations: result.Evaluations,
		Feasible: result.FeasibleEvaluations, Front: len(result.Front), Seconds: time.Since(p.began).Seconds(), Violated: work.Broken,
	}
	r.log.finished(&ended, result.GradientEvaluations)
	return &doneCase{Result: *result, History: work.History, Record: ended}, nil
}
