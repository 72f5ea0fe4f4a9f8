package workers

import (
	"context"
	"fmt"
	"runtime/debug"
	"sync"
	"sync/atomic"
)

// Pool shares work among goroutines, each with its own W.
type Pool[W any] struct{ own []W }

func New[W any](own []W) *Pool[W] { return &Pool[W]{own} }

// Each calls do for 0..n−1, every worker taking the next index when it is free: costs are
// uneven, as bad designs are turned down early. What do writes must belong only to
// its index, so that the result does not depend on who did it. A panic becomes an error.
func (p *Pool[W]) Each(ctx context.Context, n int, do func(own W, i int)) error {
	if n == 0 {
		return ctx.Err()
	}
	var next atomic.Int64
	var failed atomic.Pointer[error]
	work := func(own W) {
		defer func() {
			if r := recover(); r != nil {
				err := fmt.Errorf("optimize: evaluation panicked: %v\n%s", r, debug.Stack())
				failed.CompareAndSwap(nil, &err)
			}
		}()
		for ctx.Err() == nil && failed.Load() == nil {
			i := int(next.Add(1)) - 1
			if i >= n {
				return
			}
			do(own, i)
		}
	}
	var group sync.WaitGroup
	for _, own := range p.own[1:min(n, len(p.own))] {
		group.Go(func() { work(own) })
	}
	work(p.own[0])
	group.Wait()
	if err := failed.Load(); err != nil {
		return *err
	}
	return ctx.Err()
}

// Parts calls do for the parts of 0..n−1, one for each worker. What do writes must belong only to its part.
func (p *Pool[W]) Parts(n int, do func(from, to int)) {
	size := (n + len(p.own) - 1) / len(p.own)
	var group sync.WaitGroup
	for from := size; from < n; from += size {
		group.Go(func() { do(from, min(from+size, n)) })
	}
	do(0, min(size, n))
	group.Wait()
}
