package optimize

import (
	"cmp"
	"slices"

	"forkfront/optimize/descent"
	"forkfront/optimize/population"
)

// With one objective the gradient stage descends from members of the population to the optima of their basins and
// puts these in their places. It begins after descentStart of the budget: earlier, the first optimum draws the
// population in before the basins have been compared (semicircle, 44 seeds: one ends in a local optimum), later there
// is no time left to compare them. Where Settings.GradientShare is 0 the search makes descents all the same, as a
// part of variation, but by differences; no derivative of the problem is used.
const (
	descentStart  = 0.35
	descentShare  = 0.25 // of the evaluations, where Settings.GradientShare is 0
	descentSteps  = 200  // gradients per descent, at most
	descentBest   = 0.8  // part of the budget after which the best member comes first
	descentsShare = 0.1  // of what all descents may spend that one burst may
)

// stageShare is the share of the evaluations that the gradient stage may spend.
func (e *engine) stageShare() float64 {
	if e.singleObjective() && e.settings.GradientShare == 0 {
		return descentShare
	}
	return e.settings.GradientShare
}

// descents plans the runs of a burst: from feasible members of the better half that no descent started from yet. At
// least two, so that workers have something to do, and more only where the budget is large.
func (e *engine) descents() []*descent.Run {
	e.order()
	var starts []*population.Member
	for _, m := range e.population[:(len(e.population)+1)/2] {
		if m.Feasible && !m.Polished {
			starts = append(starts, m)
		}
	}
	common := e.descentSettings([]float64{e.spread()})
	left := e.gradientRemaining()
	most := int(descentSteps * (1 + e.gradientCost()))
	burst := min(max(int(descentsShare*e.stageShare()*e.horizon())/most, 2), runsPerBurst)
	var runs []*descent.Run
	order := e.gradient.sample(len(starts), burst)
	if at := slices.Index(order, 0); len(order) > 0 && float64(e.used) > descentBest*e.horizon() { // starts are sorted
		order[max(at, 0)], order[0] = order[0], 0
	}
	for _, i := range order {
		r := descent.New(common, starts[i])
		r.Budget = min(most, left)
		if float64(r.Budget) < 2*common.GradientCost+4 {
			break
		}
		left -= r.Budget
		runs = append(runs, r)
	}
	return runs
}

// spread is the objective's range over the better half of the feasible members, 1 where there is none.
func (e *engine) spread() float64 {
	var values []float64
	for _, m := range e.population {
		if m.Feasible {
			values = append(values, m.Outcome.F[0])
		}
	}
	slices.SortFunc(values, cmp.Compare[float64])
	if n := len(values); n > 1 && values[n/2] > values[0] {
		return values[n/2] - values[0]
	}
	return 1
}

// adopt puts what a descent reached in the place of where it started, if it is better.
func (e *engine) adopt(runs []*descent.Run) {
	for _, r := range runs {
		if r.Best == nil || !population.Better(r.Best, r.Start) {
			continue
		}
		if at := slices.Index(e.population, r.Start); at >= 0 {
			e.population[at] = r.Best
		}
	}
	e.order()
}
