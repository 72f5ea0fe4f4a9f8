package optimize

import (
	"context"
	"fmt"
	"math"
	"slices"

	"forkfront/optimize/archive"
	"forkfront/optimize/population"
)

const (
	lateFirst  = 24   // members measured as soon as there are as many
	lateRound  = 8    // and at least every time later
	latePart   = 0.25 // part of the known ones
	lateAtOnce = 64   // members measured at the end between two states
)

// due is how many members are to be measured now: many more as the search goes on, in rounds that grow.
func (l *lateStage) due(e *engine) int {
	known := len(l.known)
	if known < lateFirst {
		return min(lateFirst, l.most) - known
	}
	share := min(float64(e.used)/e.horizon(), 1)
	n := int(share*float64(l.most)) - known
	if n < max(lateRound, int(latePart*float64(known))) {
		return 0
	}
	return n
}

// measureSome measures members when it is time to.
func (e *engine) measureSome() error {
	l := e.late
	if l == nil {
		return nil
	}
	chosen := l.promising(e, l.due(e))
	if len(chosen) == 0 {
		return nil
	}
	if err := e.measure(e.working, chosen); err != nil {
		return err
	}
	return e.learn(context.WithoutCancel(e.working))
}

// promising picks members to measure: of the archive, or the best of the population where it has too few.
func (l *lateStage) promising(e *engine, n int) []*population.Member {
	if n <= 0 {
		return nil
	}
	open := l.open(e.archive.Members)
	if len(open) >= n {
		return l.apart(open, n)
	}
	others := population.Without(l.open(e.population), population.SetOf(open))
	for _, m := range others {
		e.scaling.SetViolation(m)
	}
	slices.SortStableFunc(others, byMerit)
	if open = append(open, others[:min(n-len(open), len(others))]...); len(open) < min(n, lateRound) {
		return nil // too few to be worth a round
	}
	return open
}

// measure finds the late values of members. Where it fails nothing has changed.
func (e *engine) measure(ctx context.Context, members []*population.Member) error {
	l := e.late
	found, has := make([][]float64, len(members)), make([]bool, len(members))
	err := e.pool.Each(ctx, len(members), func(p Problem, i int) {
		found[i] = make([]float64, l.counts[0])
		has[i] = p.(Staged).Measure(found[i], members[i].X)
		for _, v := range found[i] {
			has[i] = has[i] && !math.IsNaN(v) && !math.IsInf(v, 0)
		}
	})
	if err != nil {
		return err
	}
	for i, m := range members {
		d := m.Late
		if has[i] && !d.Void && l.closing > 0 {
			for k, v := range d.Values {
				l.pairs[k] = append(l.pairs[k], v, found[i][k])
			}
		}
		if d.Measured, d.Void = true, !has[i]; has[i] {
			copy(d.Values, found[i])
		}
	}
	l.known = append(l.known, members...)
	return nil
}

// learn fits the model to what is known and settles all members again.
func (e *engine) learn(ctx context.Context) error {
	e.late.fit()
	all := population.NewTable(e.population, e.archive.Members, e.infeasible, e.evolution.replaced).Members()
	err := e.pool.Each(ctx, len(all), func(p Problem, i int) {
		e.late.settle(p.(Staged), all[i])
		all[i].Sanitise()
	})
	if err != nil {
		return err
	}
	for _, m := range all {
		e.scaling.Observe(m)
	}
	for _, m := range all {
		e.scaling.SetViolation(m)
	}
	e.archive.Refill()
	e.growth.Again(e.archive.Members)
	return nil
}

// verify measures the candidates that are to be reported. Where that changes which these are, it measures those too, within
// limits. It may be stopped and begun again.
func (e *engine) verify(ctx context.Context) error {
	l := e.late
	if l == nil {
		return nil
	}
	if l.closing == 0 {
		l.closing = max(len(l.known), 1)
	}
	size := e.settings.FrontSize
	if size == 0 {
		size = len(e.archive.Members)
	}
	most := l.closing + e.settings.MostMeasured(size) - l.most
	for {
		open := l.open(archive.Choose(e.archive.Members, size, e.settings.Seed, e.pool.Parts))
		if open = open[:min(len(open), most-len(l.known))]; len(open) == 0 {
			return nil
		}
		for len(open) > 0 {
			some := open[:min(lateAtOnce, len(open))]
			if err := e.measure(ctx, some); err != nil {
				return fmt.Errorf("optimize: stopped while the candidates found are measured: %w", err)
			}
			if open = open[len(some):]; len(open) > 0 {
				if err := e.checkpoint(); err != nil {
					return err
				}
			}
		}
		if err := e.learn(context.WithoutCancel(ctx)); err != nil {
			return err
		}
	}
}

// keepKnown leaves in the archive only members whose late values are known.
func (e *engine) keepKnown() {
	if e.late == nil {
		return
	}
	p := e.problem.(Staged)
	e.archive.Rebuild(nil)
	for _, m := range e.late.known {
		e.late.settle(p, m)
		m.Sanitise()
		e.archive.Add(m)
	}
}
