package tables

import (
	"context"
	"slices"
	"sync"

	"golang.org/x/sync/errgroup"

	"forkfront/jobs/cases"
	"forkfront/jobs/store"
	"forkfront/objectives"
	"forkfront/optimize"
)

// atOnce is how many candidates are scored before any is written: enough to keep all processors busy, and few to keep
// in memory.
const atOnce = 128

// eachScored scores every candidate again on the given number of processors and passes the rows on in order; with
// more than one processor, scoring overlaps with writing. A row is overwritten by a later one.
func eachScored(all []store.Found, sv *Summary, processors int, do func(*frontRow) error) error {
	free, ready := make(chan []frontRow, 2), make(chan []frontRow)
	for range min(processors, cap(free)) {
		free <- newRows()
	}
	group, together := errgroup.WithContext(context.Background())
	group.Go(func() error {
		defer close(ready)
		for at := range all {
			if err := scoreCase(together, all, at, sv, processors, free, ready); err != nil {
				return err
			}
		}
		return nil
	})
	group.Go(func() error {
		for rows := range ready {
			for i := range rows {
				if err := do(&rows[i]); err != nil {
					return err
				}
			}
			free <- rows[:cap(rows)]
		}
		return nil
	})
	return group.Wait()
}

func newRows() []frontRow {
	rows := make([]frontRow, atOnce)
	for i := range rows {
		rows[i].score, rows[i].curves = &objectives.Score{}, make([][]float64, len(objectives.Curves))
	}
	return rows
}

// scoreCase scores the candidates of a case into free rows, until the context ends.
func scoreCase(ctx context.Context, all []store.Found, at int, sv *Summary, processors int, free <-chan []frontRow, ready chan<- []frontRow) error {
	f := &all[at]
	d, err := f.Load()
	if err != nil {
		return err
	}
	workers := newRescorers(f.Case, processors)
	for chunk := range slices.Chunk(d.Result.Front, atOnce) {
		var rows []frontRow
		select {
		case rows = <-free:
		case <-ctx.Done():
			return ctx.Err()
		}
		rescore(rows, chunk, workers)
		for i := range chunk {
			rows[i].run, rows[i].best, rows[i].dropped = sv.Run, sv.Best[candidateKey{at, chunk[i].Number}], sv.Dropped.reason(at, chunk[i].Number)
		}
		select {
		case ready <- rows[:len(chunk)]:
		case <-ctx.Done():
			return ctx.Err()
		}
	}
	return nil
}

// rescorer is one worker's memory for scoring the candidates of a case.
type rescorer struct {
	c        *cases.Case
	designer *cases.Designer
	scorer   *objectives.Scorer
	design   objectives.Design
}

// newRescorers makes one per worker.
func newRescorers(c *cases.Case, workers int) []rescorer {
	all := make([]rescorer, workers)
	for i := range all {
		all[i] = rescorer{c: c, designer: c.Designer(), scorer: objectives.NewScorer(c.Conditions)}
	}
	return all
}

// score scores a candidate by its variables. The study is valid until the next one.
func (w *rescorer) score(dst *objectives.Score, x []float64) objectives.Study {
	w.designer.Design(&w.design, x)
	return w.scorer.Score(dst, &w.design)
}

// rescore fills one row per candidate, shared out among the workers.
func rescore(rows []frontRow, candidates []optimize.Candidate, workers []rescorer) {
	shareOut(len(candidates), len(workers), func(worker, i int) { workers[worker].fill(&rows[i], &candidates[i]) })
}

// shareOut does n things, shared out among workers that run at the same time.
func shareOut(n, workers int, do func(worker, i int)) {
	var group sync.WaitGroup
	for k := range min(workers, n) {
		group.Go(func() {
			for i := k; i < n; i += workers {
				do(k, i)
			}
		})
	}
	group.Wait()
}

// fill scores a candidate. The study is valid until the next one.
func (w *rescorer) fill(r *frontRow, candidate *optimize.Candidate) objectives.Study {
	r.c, r.candidate = w.c, candidate
	study := w.score(r.score, candidate.X)
	study.Complete(r.score)
	w.c.TakeLate(r.score, candidate)
	for k := range r.curves {
		r.curves[k], _ = objectives.ReadCurve(r.curves[k][:0], &objectives.Curves[k], study.Ride())
	}
	return study
}
