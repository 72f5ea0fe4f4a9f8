package main

import (
	"context"
	"fmt"
	"slices"
	"strconv"
	"strings"

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

// converged compares what searches tell of their convergence with what more searches find: the growth in the last fifth of its
// evaluations and what another seed adds, and what twice the evaluations bring, where these are among the budgets. All is measured by
// the front of all searches together. Then the same for several seeds together.
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
	name := of(o.first).Mechanism.Name
	for _, budget := range o.budgets {
		for _, a := range attempts[budget] {
			share := scale.share(a.cover)
			fmt.Printf("| %s | %d | %d | %.3f | %.2g | %s | %s |\n", name, budget, a.seed, share, 100*a.grown,
				mean(others(attempts[budget], a), func(b *attempt) float64 { return scale.share(a.cover.with(b.cover))/share - 1 }),
				mean(attempts[2*budget], func(b *attempt) float64 { return scale.share(b.cover)/share - 1 }))
		}
	}
	fmt.Println("\n| case | evaluations | seeds together | last fifth added at most, % | half of what only one has found, % | as many again bring, % | twice the evaluations bring, % |")
	fmt.Println("| --- | --- | --- | --- | --- | --- | --- |")
	for _, budget := range o.budgets {
		for k := 2; k <= o.seeds; k++ {
			for _, together := range subsets(attempts[budget], k) {
				o.group(scale, name, budget, together, attempts)
			}
		}
	}
	return nil
}

// group prints what some seeds together tell of what is missing, and what more of them bring.
func (o *options) group(scale *scorer, name string, budget int, together []*attempt, attempts map[int][]*attempt) {
	whole := scale.share(union(scale, together))
	var seeds []string
	most, alone := 0.0, 0.0 // alone: what one covers and no other, for each of them
	rest := attempts[budget]
	var longer []*attempt
	for _, a := range together {
		seeds, most = append(seeds, strconv.Itoa(a.seed)), max(most, a.grown)
		alone += 1 - scale.share(union(scale, others(together, a)))/whole
		rest = others(rest, a)
		for _, b := range attempts[2*budget] {
			if b.seed == a.seed {
				longer = append(longer, b)
			}
		}
	}
	twice := "–"
	if len(longer) == len(together) {
		twice = fmt.Sprintf("%.2g", 100*(scale.share(union(scale, longer))/whole-1))
	}
	again := subsets(rest, len(together))
	sum := 0.0
	for _, more := range again {
		sum += scale.share(union(scale, append(more, together...)))/whole - 1
	}
	bring := "–"
	if len(again) > 0 {
		bring = fmt.Sprintf("%.2g", 100*sum/float64(len(again)))
	}
	fmt.Printf("| %s | %d | %s | %.2g | %.2g | %s | %s |\n", name, budget, strings.Join(seeds, ", "), 100*most, 100*alone/2, bring, twice)
}

func union(scale *scorer, all []*attempt) cover {
	c := scale.none()
	for _, a := range all {
		c = c.with(a.cover)
	}
	return c
}

// subsets are all choices of k.
func subsets(all []*attempt, k int) (chosen [][]*attempt) {
	switch {
	case k == 0:
		return [][]*attempt{nil}
	case k > len(all):
		return nil
	}
	for _, rest := range subsets(all[1:], k-1) {
		chosen = append(chosen, append([]*attempt{all[0]}, rest...))
	}
	return append(chosen, subsets(all[1:], k)...)
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
