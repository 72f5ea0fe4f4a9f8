package optimize

import (
	"math"
	"slices"

	"forkfront/optimize/population"
	"forkfront/optimize/variation"
	"forkfront/optimize/wire"
)

// evolution is how the search goes on where there is one objective: differential evolution that adapts itself (see
// variation.Adaptation), with a population that shrinks with the budget (Tanabe and Fukunaga, CEC 2014). It restarts with a new population
// when the present one cannot improve any further.
type evolution struct {
	adaptation variation.Adaptation
	replaced   []*population.Member // parents that a child has replaced
	from       int                  // evaluations used when this population began
	size       int                  // of this population when it began
	stale      int                  // generations without a child better than its parent
}

const (
	replacedLimit = 2.6 // replaced parents kept, in populations
	leastSize     = 4
	staleMost     = 50      // generations after which a population has nothing left to give
	collapsed     = 1e-12   // largest range of a variable in a population that has converged
	endlessSize   = 18      // members per variable where no budget is known
	endlessMost   = 1 << 14 // members at which a population stops doubling
)

// exhausted reports whether the population can bring nothing more: it has converged, or has long not improved.
func (e *engine) exhausted() bool {
	if len(e.population) < leastSize || e.evolution.stale >= staleMost {
		return true
	}
	for i := range e.space.Variables {
		low, high := 1.0, 0.0
		for _, m := range e.population {
			low, high = min(low, m.U[i]), max(high, m.U[i])
		}
		if high-low > collapsed {
			return false
		}
	}
	return true
}

// restart begins with a new population; what was found so far stays in the archive.
func (e *engine) restart() error {
	v := evolution{from: e.used, size: e.size}
	switch {
	case e.openEnded():
		v.size = min(2*e.evolution.size, e.mostMembers())
	case e.settings.Population == 0:
		v.size = min(populationFor(int(e.horizon())-e.used, len(e.space.Variables)), e.mostMembers())
	}
	members := e.newMembers(min(max(v.size, leastSize), e.remaining()))
	e.operators.LatinHypercube(members)
	if err := e.evaluate(members); err != nil {
		return err
	}
	e.evolution, e.population = v, members
	e.order()
	return nil
}

// order sorts the population, the best first.
func (e *engine) order() {
	for _, m := range e.population {
		e.scaling.SetViolation(m)
	}
	slices.SortStableFunc(e.population, byMerit)
}

// byMerit compares members with one objective: feasible before infeasible, then by violation, then by objective.
func byMerit(a, b *population.Member) int {
	switch {
	case population.Better(a, b):
		return -1
	case population.Better(b, a):
		return 1
	}
	return 0
}

// evolve makes and evaluates one generation of children, each against its own parent.
func (e *engine) evolve() error {
	if e.exhausted() {
		return e.restart()
	}
	e.order()
	v := &e.evolution
	parents := e.population
	children := e.newMembers(min(len(parents), e.remaining()))
	v.adaptation.Breed(e.operators, children, parents, v.replaced)
	if err := e.evaluate(children); err != nil {
		return err
	}
	e.succeed(children)
	e.order()
	e.population = e.population[:min(len(e.population), e.aloneSize())]
	v.replaced = e.operators.Drop(v.replaced, int(replacedLimit*float64(len(e.population))))
	return nil
}

// succeed puts each child that is no worse in the place of its parent and learns from those that are better.
func (e *engine) succeed(children []*population.Member) {
	v := &e.evolution
	next := slices.Clone(e.population)
	for _, m := range next {
		e.scaling.SetViolation(m)
	}
	v.stale++
	for i, child := range children {
		parent := e.population[i]
		switch {
		case population.Better(child, parent):
			v.replaced = append(v.replaced, parent)
			next[i], v.stale = child, 0
		case !population.Better(parent, child):
			next[i] = child
		}
	}
	v.adaptation.Learn(e.population, children)
	e.population = next
}

func (v *evolution) pack(w *wire.Writer) {
	for _, n := range []int{v.from, v.size, v.stale} {
		w.Int(n)
	}
	v.adaptation.Pack(w)
}

func (v *evolution) unpack(u *wire.Reader, used, most int) {
	v.from, v.size, v.stale = u.Int(0, used), u.Int(leastSize, most), u.Int(0, math.MaxInt)
	v.adaptation.Unpack(u)
}
