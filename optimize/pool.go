package optimize

import (
	"context"
	"fmt"
	"runtime"
	"runtime/debug"
	"sync"
	"sync/atomic"
)

// pool shares work among goroutines, each with its own copy of the problem.
type pool struct{ problems []Problem }

func newPool(p Problem, workers int) *pool {
	if workers == 0 {
		workers = runtime.GOMAXPROCS(0)
	}
	problems := make([]Problem, workers)
	for i := range problems {
		problems[i] = p
		if f, ok := p.(Forker); ok {
			problems[i] = f.Fork()
		}
	}
	return &pool{problems: problems}
}

// each calls do for 0..n−1, every worker taking the next index when it is free: costs are
// uneven, as bad designs are turned down early. What do writes must belong to its index
// alone, so that the result does not depend on who did it. A panic becomes an error.
func (p *pool) each(ctx context.Context, n int, do func(problem Problem, i int)) error {
	if n == 0 {
		return ctx.Err()
	}
	var next atomic.Int64
	var failed atomic.Pointer[error]
	work := func(problem Problem) {
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
			do(problem, i)
		}
	}
	var group sync.WaitGroup
	for _, problem := range p.problems[1:min(n, len(p.problems))] {
		group.Go(func() { work(problem) })
	}
	work(p.problems[0])
	group.Wait()
	if err := failed.Load(); err != nil {
		return *err
	}
	return ctx.Err()
}

// parts calls do for the parts of 0..n−1, one a worker. What do writes must belong to its part alone.
func (p *pool) parts(n int, do func(from, to int)) {
	size := (n + len(p.problems) - 1) / len(p.problems)
	var group sync.WaitGroup
	for from := size; from < n; from += size {
		group.Go(func() { do(from, min(from+size, n)) })
	}
	do(0, min(size, n))
	group.Wait()
}

func (p *pool) evaluate(ctx context.Context, batch []*member) error {
	return p.each(ctx, len(batch), func(problem Problem, i int) {
		problem.Evaluate(&batch[i].out, batch[i].x)
		batch[i].settle()
	})
}
