package main

import (
	"context"
	"fmt"
	"math"
	"os"
	"slices"
	"time"

	"forkfront/jobs/cases"
	"forkfront/jobs/files"
	"forkfront/jobs/run"
	"forkfront/optimize"
)

// names of a case's objectives.
func names(c *cases.Case) (all []string) {
	for _, o := range c.Problem().Objectives() {
		all = append(all, o.Name)
	}
	return all
}

// one measures a case, given by seed, or merges what it finds into the reference.
func (o *options) one(job *files.JobFile, of func(seed int) *cases.Case, ref *reference) error {
	if o.write {
		return o.enlarge(job, of, ref)
	}
	for _, budget := range o.budgets {
		if err := o.row(job, of, ref, budget); err != nil {
			return err
		}
	}
	return nil
}

// row measures one budget of a case and prints its line.
func (o *options) row(job *files.JobFile, of func(seed int) *cases.Case, ref *reference, budget int) error {
	scale, name := newScorer(ref), of(o.first).Mechanism.Name
	fronts := make([]cover, o.seeds)
	shares, whole := make([]float64, o.seeds), make([]float64, o.seeds)
	feasible, began := 0, time.Now()
	for i := range o.seeds {
		c := of(o.first + i)
		s := o.settings(job, c, budget)
		all := scale.none()
		s.Observe = func(m *optimize.Candidate) error {
			if m.Feasible() {
				scale.add(all, m.F)
			}
			return nil
		}
		r, err := optimize.Search(context.Background(), c.Problem(), s)
		if err != nil {
			return err
		}
		fronts[i] = scale.none()
		for k := range r.Front {
			scale.add(fronts[i], r.Front[k].F)
		}
		shares[i], whole[i] = scale.share(fronts[i]), scale.share(all)
		feasible += r.FeasibleEvaluations
	}
	if o.verbose {
		fmt.Fprintf(os.Stderr, "%s %d: %.3f\n", name, budget, shares)
	}
	each := time.Since(began).Seconds() * 1e6 / float64(o.seeds*budget)
	adds := added(fronts, scale)
	median, low, high, worst := spread(shares)
	archive, _, _, _ := spread(whole)
	fmt.Printf("| %s | %d | %.3f | %.3f–%.3f | %.3f | %.3f | %.0f %% | %.0f %% | %.1f |\n", name, budget,
		median, low, high, worst, archive, 100*adds, 100*float64(feasible)/float64(o.seeds*budget), each)
	return nil
}

func (o *options) settings(job *files.JobFile, c *cases.Case, budget int) optimize.Settings {
	s := run.Settings(job, c, 1)
	s.Evaluations, s.FrontSize, s.Population = budget, o.front, o.size
	if o.gradients >= 0 {
		s.GradientShare = o.gradients
	}
	return s
}

// spread returns median, quartiles and least of some values.
func spread(values []float64) (median, low, high, least float64) {
	values = slices.Sorted(slices.Values(values))
	n := len(values)
	return values[n/2], values[n/4], values[3*n/4], values[0]
}

// added is by which part the front of one seed enlarges the volume of another one's, on average over all pairs.
func added(fronts []cover, scale *scorer) float64 {
	sum, pairs := 0.0, 0
	for i, a := range fronts {
		for k, b := range fronts {
			if alone := scale.share(a); i != k && alone > 0 {
				sum += scale.share(a.with(b))/alone - 1
				pairs++
			}
		}
	}
	return sum / math.Max(1, float64(pairs))
}
