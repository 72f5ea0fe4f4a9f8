package optimize

import (
	"context"
	"errors"
	"fmt"
	randv2 "math/rand/v2"
	"time"
)

var (
	errWall       = errors.New("wall time is up")
	errCheckpoint = errors.New("checkpoint failed")
)

// grace is how long a generation may continue after the search is cancelled, where
// its state is kept: enough for it to end as a rule, so that often stopped searches get on.
const grace = 3 * time.Second

// limitTime sets what ends the search: ctx or the wall time.
func (e *engine) limitTime(ctx context.Context) (release func()) {
	stop, end := context.WithCancel(ctx)
	if s := &e.settings; s.MaxWall > 0 {
		stop, end = context.WithTimeoutCause(ctx, s.MaxWall-e.elapsedBefore, errWall)
	}
	e.stopping, e.working = stop, stop
	if e.settings.Checkpoint == nil {
		return end
	}
	work, give := context.WithCancel(context.WithoutCancel(ctx))
	e.working = work
	forget := context.AfterFunc(stop, func() {
		late := time.NewTimer(grace)
		defer late.Stop()
		select {
		case <-late.C:
			give()
		case <-work.Done():
		}
	})
	return func() { forget(); give(); end() }
}

func (e *engine) elapsed() time.Duration { return e.elapsedBefore + time.Since(e.began) }

// step is one generation, or one burst of the gradient stage. One that fails leaves the
// state as it was before.
func (e *engine) step() error {
	if err := e.stopping.Err(); err != nil {
		return err
	}
	mark := e.snapshot()
	stage, err := e.generation()
	if err != nil {
		e.rollBack(mark)
		return err
	}
	e.generations++
	e.report(stage)
	return e.checkpoint()
}

func (e *engine) generation() (stage string, err error) {
	if err := e.measureSome(); err != nil {
		return "", err
	}
	switch {
	case e.population == nil:
		return "genetic", e.initialise()
	case e.gradient.due(e):
		return "gradient", e.gradient.burst(e)
	}
	return "genetic", e.vary()
}

// vary makes one generation of offspring.
func (e *engine) vary() error {
	if e.singleObjective() {
		return e.evolve()
	}
	return e.breed()
}

// snapshot is what a generation changes before its evaluations are in.
type snapshot struct {
	search, gradient randv2.PCG
	stage            gradientStage
}

func (e *engine) snapshot() snapshot {
	return snapshot{*e.breeder.source.PCG, *e.gradient.source.PCG, e.gradient}
}

func (e *engine) rollBack(m snapshot) {
	*e.breeder.source.PCG, *e.gradient.source.PCG, e.gradient = m.search, m.gradient, m.stage
}

// checkpoint passes on the state when one is due.
func (e *engine) checkpoint() error {
	if e.settings.Checkpoint == nil || time.Since(e.saved) < e.settings.CheckpointEvery {
		return nil
	}
	return e.save()
}

func (e *engine) save() error {
	if e.settings.Checkpoint == nil {
		return nil
	}
	if err := e.settings.Checkpoint(e.state()); err != nil {
		return fmt.Errorf("optimize: %w after %d evaluations: %w", errCheckpoint, e.used, err)
	}
	e.saved = time.Now()
	return nil
}
