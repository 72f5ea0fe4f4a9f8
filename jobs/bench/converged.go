package main

import (
	"context"
	"fmt"
	"slices"

	"forkfront/jobs/cases"
	"forkfront/jobs/files"
	"forkfront/optimize"
	"forkfront/optimize/dominance"
)

// attempt is one search: what can be told from it, and what it found.
type attempt struct {
	seed  int
	front [][]float64
	grown float64 // part of its last hypervolume that the last fifth of its evaluations added
	cover cover
}

// converged compares what a search tells of its convergence with what more searches find: the growth in the last fifth of its
// evaluations and what another seed adds, and what twice the evaluations bring, where these are among the budgets. All is measured by
// the front of all searches together.
func (o *options) converged(job *files.JobFile, of func(seed int) *cases.Case) error {
	attempts := map[int][]*attempt{}
	var all [][]float64
	for _, budget := range o.budgets {
		for i := range o.seeds {
			a, err := o.attempt(job, of(o.first+i), budget)
			if err != nil {
				return err
			}
			a.seed = o.first + i
			attempts[budget] = append(attempts[budget], a)
			all = append(all, a.front...)
		}
	}
	scale := newScorer(&reference{points: dominance.Nondominated(all)})
	for _, budget := range o.budgets {
		for _, a := range attempts[budget] {
			a.cover = scale.none()
			for _, f := range a.front {
				scale.add(a.cover, f)
			}
		}
	}
	for _, budget := range o.budgets {
		for _, a := range attempts[budget] {
			share := scale.share(a.cover)
			fmt.Printf("| %s | %d | %d | %.3f | %.2g | %s | %s |\n", of(o.first).Mechanism.Name, budget, a.seed, share, 100*a.grown,
				mean(others(attempts[budget], a), func(b *attempt) float64 { return scale.share(a.cover.with(b.cover))/share - 1 }),
				mean(attempts[2*budget], func(b *attempt) float64 { return scale.share(b.cover)/share - 1 }))
		}
	}
	return nil
}

// attempt searches a case.
func (o *options) attempt(job *files.JobFile, c *cases.Case, budget int) (*attempt, error) {
	s := o.settings(job, c, budget)
	before, last := 0.0, 0.0
	s.Progress = func(g optimize.Generation) {
		if last = g.Hypervolume; float64(g.Evaluations) <= 0.8*float64(budget) {
			before = last
		}
	}
	r, err := optimize.Search(context.Background(), c.Problem(), s)
	if err != nil {
		return nil, err
	}
	a := &attempt{}
	if last > 0 {
		a.grown = (last - before) / last
	}
	for k := range r.Front {
		a.front = append(a.front, r.Front[k].F)
	}
	return a, nil
}

func others(all []*attempt, but *attempt) []*attempt {
	return slices.DeleteFunc(slices.Clone(all), func(a *attempt) bool { return a == but })
}

// mean is a mean in %, – of nothing.
func mean(all []*attempt, of func(*attempt) float64) string {
	sum := 0.0
	for _, a := range all {
		sum += of(a)
	}
	if len(all) == 0 {
		return "–"
	}
	return fmt.Sprintf("%.2g", 100*sum/float64(len(all)))
}
