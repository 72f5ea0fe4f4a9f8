package optimize

import (
	"fmt"
	"slices"
)

// initialise evaluates the first population: what was given, then a Latin hypercube.
func (e *engine) initialise() error {
	members := e.newMembers(min(max(e.populationSize(), len(e.settings.Start)), e.remaining()))
	given := min(len(e.settings.Start), len(members))
	for i, m := range members[:given] {
		copy(m.x, e.settings.Start[i])
		e.space.scaled(m.u, m.x)
	}
	e.operators.latinHypercube(members[given:])
	if err := e.evaluate(members); err != nil {
		return err
	}
	e.population = e.survive(members, e.populationSize())
	return nil
}

// breed makes, evaluates and merges one generation of offspring.
func (e *engine) breed() error {
	children := e.newMembers(min(e.populationSize(), e.remaining()))
	e.operators.offspring(children, &stock{
		parents: e.population, archive: e.archive.members, marks: e.archive.marks, infeasible: e.infeasible,
		used: float64(e.used), horizon: e.horizon(), divided: divides(&e.space, e.horizon()),
	})
	if err := e.evaluate(children); err != nil {
		return err
	}
	for _, m := range e.population {
		e.scaling.setViolation(m)
	}
	survivors := e.survive(compete(e.population, children), e.populationSize())
	e.operators.learn(children, survivors)
	e.population = survivors
	return nil
}

// evaluate numbers, evaluates and takes in members in their order.
func (e *engine) evaluate(members []*member) error {
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
func (e *engine) weigh(children []*member) {
	if e.singleObjective() || e.settings.GradientShare == 0 || len(e.archive.members) == 0 {
		return
	}
	span, gain := e.archive.spans(), 0.0
	gains := make([]float64, (len(children)+yieldEvery-1)/yieldEvery)
	e.pool.Parts(len(gains), func(from, to int) {
		for k := from; k < to; k++ {
			gains[k] = yieldEvery * e.archive.novelty(children[k*yieldEvery], span)
		}
	})
	for _, g := range gains {
		gain += g
	}
	e.gradient.variation.add(gain, len(children), variationKept)
}

// register numbers evaluated members and offers them to the archive.
func (e *engine) register(members []*member) error {
	niched, ok := e.problem.(Niched)
	for _, m := range members {
		if ok {
			m.setKind(niched, &e.space)
		}
		m.number = e.number
		e.number++
		e.scaling.observe(m)
	}
	for _, m := range members {
		e.scaling.setViolation(m)
		if m.feasible {
			e.feasible++
			if e.archive.add(m) {
				e.archive.thinWhenFull()
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

// notify gives members to Seen.
func (e *engine) notify(members []*member) error {
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
func (e *engine) observed(m *member) Candidate {
	c := m.candidate()
	if m.late != nil && !m.late.measured {
		c.F, c.G, c.Late = slices.Clone(c.F), slices.Clone(c.G), nil
		e.problem.(Staged).Settle(&c.Outcome, nil)
	}
	return c
}
