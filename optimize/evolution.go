package optimize

import (
	"math"
	"slices"

	"forkfront/optimize/wire"
)

// evolution is how the search varies candidates where there is one objective: differential evolution whose step
// sizes and crossover rates follow from those that succeeded and whose population shrinks with the budget
// (L-SHADE: Tanabe and Fukunaga, CEC 2014; its mutation, current-to-pbest with an archive of replaced parents, is
// that of JADE: Zhang and Sanderson, IEEE Trans. Evol. Comput. 13 (2009) 945), part of the children crossed along
// the principal axes of the population (Awad, Ali and Suganthan, CEC 2017). It restarts with a new population when
// the present one cannot improve any further.
type evolution struct {
	history  history
	replaced []*member // parents that a child has replaced
	from     int       // evaluations used when this population began
	size     int       // of this population when it began
	stale    int       // generations without a child better than its parent
}

const (
	greedyShare   = 0.11 // best part of the population, one of which pulls each child
	replacedLimit = 2.6  // replaced parents kept, in populations
	axesShare     = 0.4  // children that are crossed along principal axes
	leastSize     = 4
	staleMost     = 50      // generations after which a population has nothing left to give
	collapsed     = 1e-12   // largest range of a variable in a population that has converged
	endlessSize   = 18      // members per variable where no budget is known
	endlessMost   = 1 << 14 // members at which a population stops doubling
)

// singleObjective reports whether the search has one objective.
func (e *engine) singleObjective() bool { return len(e.objectives) == 1 && !e.settings.Plain }

// populationFor is the initial population size for a budget of evaluations. Tanabe and Fukunaga use 18 members per
// variable for 10,000 evaluations per variable. With a smaller budget that many do not converge, and with a larger one
// they still commit to one basin too early, so the size grows with the square root of the budget.
func populationFor(evaluations, variables int) int {
	return max(int(math.Sqrt(float64(evaluations)*float64(variables))/4), 10)
}

// aloneSize is the population's size at this point: it falls in proportion to the evaluations used.
func (e *engine) aloneSize() int {
	v := &e.evolution
	if e.openEnded() {
		return v.size
	}
	done := float64(e.used-v.from) / max(e.horizon()-float64(v.from), 1)
	return max(int(float64(v.size)+min(done, 1)*float64(leastSize-v.size)+0.5), leastSize)
}

// exhausted reports whether the population can bring nothing more: it has converged, or has long not improved.
func (e *engine) exhausted() bool {
	if len(e.population) < leastSize || e.evolution.stale >= staleMost {
		return true
	}
	for i := range e.space.variables {
		low, high := 1.0, 0.0
		for _, m := range e.population {
			low, high = min(low, m.u[i]), max(high, m.u[i])
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
		v.size = min(populationFor(int(e.horizon())-e.used, len(e.space.variables)), e.mostMembers())
	}
	members := e.newMembers(min(max(v.size, leastSize), e.remaining()))
	e.breeder.latinHypercube(members)
	if err := e.evaluate(members); err != nil {
		return err
	}
	e.evolution, e.population = v, members
	e.order()
	return nil
}

// mostMembers is the largest population that a restart may make.
func (e *engine) mostMembers() int { return max(endlessMost, e.size) }

// order sorts the population, the best first.
func (e *engine) order() {
	for _, m := range e.population {
		e.scaling.setViolation(m)
	}
	slices.SortStableFunc(e.population, byMerit)
}

// byMerit compares members with one objective: feasible before infeasible, then by violation, then by objective.
func byMerit(a, b *member) int {
	switch {
	case better(a, b):
		return -1
	case better(b, a):
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
	axes := principalAxes(&e.space, e.population)
	drawn := make([]stepSize, len(children))
	for i, child := range children {
		drawn[i] = v.history.draw(e.breeder.rng)
		e.cross(child, i, drawn[i], axes)
	}
	if err := e.evaluate(children); err != nil {
		return err
	}
	e.succeed(children, drawn)
	e.order()
	e.population = e.population[:min(len(e.population), e.aloneSize())]
	for limit := int(replacedLimit * float64(len(e.population))); len(v.replaced) > limit; {
		last, i := len(v.replaced)-1, e.breeder.rng.IntN(len(v.replaced))
		v.replaced[i] = v.replaced[last]
		v.replaced = v.replaced[:last]
	}
	return nil
}

// succeed puts each child that is no worse in the place of its parent and learns from those that are better.
func (e *engine) succeed(children []*member, drawn []stepSize) {
	v := &e.evolution
	next := slices.Clone(e.population)
	for _, m := range next {
		e.scaling.setViolation(m)
	}
	var won []success
	for i, child := range children {
		parent := e.population[i]
		switch {
		case better(child, parent):
			v.replaced = append(v.replaced, parent)
			won = append(won, success{drawn[i], gainOver(parent, child), parent.feasible})
			next[i] = child
		case !better(parent, child):
			next[i] = child
		}
	}
	e.population = next
	v.history.learn(won)
	if v.stale++; len(won) > 0 {
		v.stale = 0
	}
}

// gainOver is by how much a child is better: in the objective where both are feasible, else in violation.
func gainOver(parent, child *member) float64 {
	if parent.feasible {
		return parent.outcome.F[0] - child.outcome.F[0]
	}
	return parent.violation - child.violation
}

// cross fills child i: its parent, moved towards one of the best and along the difference of two others.
func (e *engine) cross(child *member, i int, s stepSize, axes [][]float64) {
	b, parents, replaced := &e.breeder, e.population, e.evolution.replaced
	target := parents[i]
	best := parents[b.rng.IntN(min(max(int(greedyShare*float64(len(parents))+0.5), 2), len(parents)))]
	p := b.other(parents, nil, target, target)
	q := b.other(parents, replaced, target, p)
	step := make([]float64, len(child.u))
	for j := range step {
		step[j] = s.factor*(best.u[j]-target.u[j]) + s.factor*(p.u[j]-q.u[j])
	}
	along := axes != nil && b.rng.Float64() < axesShare
	if along {
		step = turned(axes, step, true)
	}
	sure := b.rng.IntN(len(step))
	taken := make([]bool, len(step))
	for j := range step {
		if taken[j] = j == sure || b.rng.Float64() < s.rate; !taken[j] {
			step[j] = 0
		}
	}
	if along {
		step = turned(axes, step, false)
	}
	for j, t := range target.u {
		child.u[j] = halfwayIn(t+step[j], t)
		if v := &b.space.variables[j]; v.Levels > 0 {
			b.level(child.u, j, v, taken[j], [...]*member{target, best, p, q})
		}
	}
	b.ensureDistinct(child, target, best, p, q)
}

// other picks a member of two lists that is neither of two others.
func (b *breeder) other(from, more []*member, not, nor *member) *member {
	m := not
	for try := 0; try < 100 && (m == not || m == nor); try++ {
		if k := b.rng.IntN(len(from) + len(more)); k < len(from) {
			m = from[k]
		} else {
			m = more[k-len(from)]
		}
	}
	return m
}

// level settles a discrete variable: a category comes from one of those that the child is made of, and sometimes any
// level is taken, since a small population loses levels that differences cannot bring back.
func (b *breeder) level(u []float64, j int, v *Variable, taken bool, from [4]*member) {
	if v.Categorical {
		u[j] = from[0].u[j]
		if taken {
			u[j] = from[b.rng.IntN(len(from))].u[j]
		}
	}
	if b.rng.Float64()*float64(len(u)) < 0.5 {
		u[j] = min(max(math.Round(u[j]*v.High)/max(v.High, 1), 0), 1)
		b.mutateLevel(u, j, v)
	}
}

// halfwayIn brings a value that is out of bounds halfway from its parent to the bound.
func halfwayIn(v, parent float64) float64 {
	switch {
	case v < 0:
		return parent / 2
	case v > 1:
		return (1 + parent) / 2
	}
	return v
}

func (v *evolution) pack(w *wire.Writer) {
	for _, n := range []int{v.from, v.size, v.stale, v.history.next} {
		w.Int(n)
	}
	w.Floats(v.history.factor[:])
	w.Floats(v.history.rate[:])
}

func (v *evolution) unpack(u *wire.Reader, used, most int) {
	v.from, v.size = u.Int(0, used), u.Int(leastSize, most)
	v.stale, v.history.next = u.Int(0, math.MaxInt), u.Int(0, historyLength-1)
	u.Floats(v.history.factor[:], false)
	u.Floats(v.history.rate[:], false)
	for k, f := range v.history.factor {
		if r := v.history.rate[k]; math.Abs(f) > 0.5 || math.Abs(r) > 0.5 && r != noRate {
			u.Reject()
		}
	}
}
