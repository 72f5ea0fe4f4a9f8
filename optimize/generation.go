package optimize

import (
	"fmt"
	"slices"

	"forkfront/optimize/population"
	"forkfront/optimize/survival"
	"forkfront/optimize/variation"
)

// initialise evaluates the first population: what was given, then a Latin hypercube.
func (e *engine) initialise() error {
	members := e.newMembers(min(max(e.populationSize(), len(e.settings.Start)), e.remaining()))
	given := min(len(e.settings.Start), len(members))
	for i, m := range members[:given] {
		copy(m.X, e.settings.Start[i])
		e.space.Scaled(m.U, m.X)
	}
	e.operators.LatinHypercube(members[given:])
	if err := e.evaluate(members); err != nil {
		return err
	}
	e.population = e.survive(members, e.populationSize())
	return nil
}

// breed makes, evaluates and merges one generation of offspring.
func (e *engine) breed() error {
	children := e.newMembers(min(e.populationSize(), e.remaining()))
	e.operators.Offspring(children, &variation.Stock{
		Parents: e.population, Archive: e.archive.Members, Marks: e.archive.Marks, Infeasible: e.infeasible,
		Used: float64(e.used), Horizon: e.horizon(), Divided: e.divided(),
	})
	if err := e.evaluate(children); err != nil {
		return err
	}
	for _, m := range e.population {
		e.scaling.SetViolation(m)
	}
	survivors := e.survive(survival.Compete(e.population, children), e.populationSize())
	e.operators.Learn(children, survivors)
	e.population = survivors
	return nil
}

// evaluate numbers, evaluates and takes in members in their order.
func (e *engine) evaluate(members []*population.Member) error {
	err := e.pool.Each(e.working, len(members), func(p Problem, i int) {
		e.late.assess(p, members[i])
	})
	if err != nil {
		return err
	}
	e.weigh(members)
	e.used += len(members)
	return e.register(members)
}

// weigh notes what a generation of children is worth, where the gradient stage will want to know.
func (e *engine) weigh(children []*population.Member) {
	if e.singleObjective() || e.settings.GradientShare == 0 || len(e.archive.Members) == 0 {
		return
	}
	span, gain := e.archive.Spans(), 0.0
	gains := make([]float64, (len(children)+yieldEvery-1)/yieldEvery)
	e.pool.Parts(len(gains), func(from, to int) {
		for k := from; k < to; k++ {
			gains[k] = yieldEvery * e.archive.Novelty(children[k*yieldEvery], span)
		}
	})
	for _, g := range gains {
		gain += g
	}
	e.gradient.variation.add(gain, len(children), variationKept)
}

// register numbers evaluated members and offers them to the archive.
func (e *engine) register(members []*population.Member) error {
	niched, ok := e.problem.(Niched)
	for _, m := range members {
		if ok {
			m.SetKind(niched, &e.space)
		}
		m.Number = e.number
		e.number++
		e.scaling.Observe(m)
	}
	for _, m := range members {
		e.scaling.SetViolation(m)
		if m.Feasible {
			e.feasible++
			if e.archive.Add(m) {
				e.archive.ThinWhenFull()
			}
			continue
		}
		e.infeasible = append(e.infeasible, m)
	}
	if most := 2 * e.size; len(e.infeasible) > most {
		e.infeasible = slices.Delete(e.infeasible, 0, len(e.infeasible)-most)
	}
	return e.notify(members)
}

// notify gives members to Observe.
func (e *engine) notify(members []*population.Member) error {
	if e.settings.Observe == nil {
		return nil
	}
	for _, m := range members {
		c := e.observed(m)
		if err := e.settings.Observe(&c); err != nil {
			return fmt.Errorf("optimize: %w", err)
		}
	}
	return nil
}

// observed is a member as Observe gets it: what is predicted of it is left out.
func (e *engine) observed(m *population.Member) Candidate {
	c := m.Candidate()
	if m.Late != nil && !m.Late.Measured {
		c.F, c.G, c.Late = slices.Clone(c.F), slices.Clone(c.G), nil
		e.problem.(Staged).Settle(&c.Outcome, nil)
	}
	return c
}
