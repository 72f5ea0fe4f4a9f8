package optimize

import (
	"context"
	"errors"
	"fmt"
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
