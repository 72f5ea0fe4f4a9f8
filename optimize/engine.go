package optimize

import (
	"context"
	"crypto/sha256"
	"fmt"
	"math"
	"runtime"
	"slices"
	"time"

	"forkfront/optimize/dominance"
	"forkfront/optimize/spacing"
	"forkfront/optimize/volume"
	"forkfront/optimize/workers"
)

// engine is the state of one search. Everything that decides what comes next is in its
// fields as plain data, so that a search can be written down between two generations.
type engine struct {
	working       context.Context // ends a generation
	stopping      context.Context // checked between generations
	identity      [sha256.Size]byte
	began         time.Time
	elapsedBefore time.Duration // spent before a resume
	saved         time.Time     // when the last state went out
	problem       Problem
	settings      Settings
	space         space
	objectives    []Objective
	constraints   int // number of constraints
	pool          *workers.Pool[Problem]
	breeder       breeder
	mates         mates // of the generation at hand
	directions    spacing.Directions
	sorter        dominance.Sorter
	intercepts    spacing.Intercepts
	cutter        *volume.Cutter // of survival by volume on samples; nil: by other means
	remotest      remotest       // of survival
	coverFrame    coverFrame     // of its samples
	archive       *archive
	scaling       constraintScale
	shares        operatorShares
	population    []*member
	infeasible    []*member // found lately, the latest last
	gradient      gradientStage
	evolution     evolution // with one objective
	frame         volumeFrame
	late          *lateStage // of a staged problem; nil: it is not
	size          int        // population that the plan starts from

	used, number, feasible, generations int
}

func newEngine(p Problem, s Settings) *engine {
	e := &engine{
		identity: identity(p, &s), began: time.Now(), saved: time.Now(), problem: p, settings: s, space: space{p.Variables()}, objectives: p.Objectives(),
		constraints: len(p.Constraints()), pool: workers.New(workerProblems(p, s.Workers)), size: s.Population,
	}
	m := len(e.objectives)
	if e.size == 0 {
		e.size = e.chosenPopulation()
	}
	if e.size = max(e.size, 4); e.singleObjective() {
		e.evolution.size = e.size
	}
	e.settings.ArchiveLimit = s.ArchiveLimit
	if s.ArchiveLimit == 0 {
		e.settings.ArchiveLimit = 2500
	}
	e.breeder = newBreeder(&e.space, m, s.Seed, streamSearch)
	e.gradient = newGradientStage(s.Seed)
	e.directions = spacing.NewDirections(m, e.size)
	e.cutter = e.newCutter(s.Seed)
	e.archive = newArchive(e.objectives, e.settings.ArchiveLimit)
	e.late = newLateStage(p, &s)
	e.scaling = make(constraintScale, e.constraints)
	e.frame.LeastViolation = math.Inf(1)
	return e
}

// chosenPopulation is what the trials on published problems used for 2, 3 and 6
// objectives, and the sizes between; with one objective it follows from the budget.
func (e *engine) chosenPopulation() int {
	switch {
	case !e.singleObjective():
		return [...]int{0, 60, 100, 92, 108, 120, 132, 144, 156}[min(len(e.objectives), 8)]
	case e.settings.Evaluations < Unlimited:
		return populationFor(e.settings.Evaluations, len(e.space.variables))
	}
	return endlessSize * len(e.space.variables)
}

// populationSize is the population's size at this point: many at first, to look everywhere, then
// fewer, to converge. It shrinks from 1.5 to 0.4 of the size over 70 % of the budget; down to 0.3 single seeds
// stuck at a local front (11 seeds of ZDT4: worst share 0.58 instead of 0.99).
func (e *engine) populationSize() int {
	if e.settings.Plain {
		return e.size
	}
	if e.singleObjective() {
		return e.aloneSize()
	}
	done := min(float64(e.used)/(0.7*e.horizon()), 1)
	return max(int(float64(e.size)*(1.5-1.1*done)+0.5), 4)
}

// mutationChance is the chance that a differential child is mutated too: half of them, against
// sticking to a local front, and towards the end, when there is no time left to leave one, ever fewer.
func (e *engine) mutationChance() float64 {
	const often, from = 0.5, 0.85
	late := max(0, float64(e.used)/e.horizon()-from) / (1 - from)
	return often * (1 - 0.8*min(late, 1))
}

// resets is the chance that a mutation forgets a variable's value. Polynomial mutation hardly ever gets past a ridge of
// infeasible or poor values, so that a part of the front behind one stayed missing where the first population had no
// member there (OSY, MW2). Late in a search, when no part is missing any more, such children are wasted, and so they
// are where the problem tells its niches, which keep members beyond every ridge.
func (e *engine) resets() float64 {
	const gone = 0.7
	early, until := 0.35, 0.4
	if e.constraints == 0 {
		early, until = 0.2, 0.3
	}
	if _, ok := e.problem.(Niched); ok {
		return 0
	}
	late := (float64(e.used)/e.horizon() - until) / (gone - until)
	return early * (1 - min(max(late, 0), 1))
}

// horizon is how many evaluations the search paces itself by: its budget; without one, where its stage ends; where nothing but
// MaxWall ends it, what it comes to by then at the rate so far; else twice what it has spent, and at first 200 a member.
func (e *engine) horizon() float64 {
	switch s := &e.settings; {
	case s.Evaluations < Unlimited:
		return float64(s.Evaluations)
	case s.Until > 0:
		return float64(s.Until)
	case s.MaxWall > 0 && !e.openEnded():
		const least = 1e-3 // of the time, before which a rate means little
		return float64(max(e.used, 1)) / min(max(e.elapsed().Seconds()/s.MaxWall.Seconds(), least), 1)
	}
	return float64(max(2*e.used, 200*e.size))
}

// openEnded reports whether only stagnation ends the search, so that its length is unknown.
func (e *engine) openEnded() bool {
	return e.settings.Evaluations >= Unlimited && e.settings.StagnationGenerations > 0
}

// remaining is how many evaluations the search may still spend.
func (e *engine) remaining() int {
	end := e.settings.Evaluations
	if u := e.settings.Until; u > 0 {
		end = min(end, u)
	}
	return end - e.used
}

func (e *engine) newMembers(n int) []*member {
	return e.late.equip(newMembers(n, len(e.space.variables), len(e.objectives), e.constraints))
}

// initialise evaluates the first population: what was given, then a Latin hypercube.
func (e *engine) initialise() error {
	members := e.newMembers(min(max(e.populationSize(), len(e.settings.Start)), e.remaining()))
	given := min(len(e.settings.Start), len(members))
	for i, m := range members[:given] {
		copy(m.x, e.settings.Start[i])
		e.space.scaled(m.u, m.x)
	}
	e.breeder.latinHypercube(members[given:])
	if err := e.evaluate(members); err != nil {
		return err
	}
	e.population = e.survive(members, e.populationSize())
	return nil
}

// workerProblems returns a problem for each worker.
func workerProblems(p Problem, workers int) []Problem {
	if workers == 0 {
		workers = runtime.GOMAXPROCS(0)
	}
	problems := make([]Problem, workers)
	for i := range problems {
		problems[i] = p
		if f, ok := p.(PerWorker); ok {
			problems[i] = f.Fork()
		}
	}
	return problems
}

// curved reports whether the front is a curve.
func (e *engine) curved() bool { return len(e.objectives) == 2 }

// manyObjectives reports whether the search looks for missing parts of the front by resets only. With many objectives
// and no constraints it converges soon, only the spread counts, and what ends and whole differences among
// neighbours find is less than they cost (DTLZ2 with six objectives: 0.9037 instead of 0.9060).
func (e *engine) manyObjectives() bool { return len(e.objectives) > 3 && e.constraints == 0 }

// evaluate numbers, evaluates and takes in members in their order.
func (e *engine) evaluate(members []*member) error {
	err := e.pool.Each(e.working, len(members), func(problem Problem, i int) {
		e.late.assess(problem, members[i])
	})
	if err != nil {
		return err
	}
	e.weigh(members)
	e.used += len(members)
	return e.register(members)
}

// register numbers evaluated members and offers them to the archive.
func (e *engine) register(members []*member) error {
	niched, ok := e.problem.(Niched)
	for _, m := range members {
		if ok {
			e.setKind(m, niched)
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

// breed makes, evaluates and merges one generation of offspring.
func (e *engine) breed() error {
	children := e.newMembers(min(e.populationSize(), e.remaining()))
	often := e.mutationChance()
	e.breeder.resets = e.resets()
	mates := e.mate()
	usable := e.usableOperators()
	weights := e.shares.weights(usable, e.constraints > 0)
	order := e.breeder.rng.Perm(len(e.population))
	for i, child := range children {
		target := e.population[order[i%len(order)]]
		operator := e.drawOperator(weights)
		if usable[operatorSlope] && !target.feasible && len(e.archive.members) > 0 && e.breeder.rng.Float64() < slopeBack {
			operator = operatorSlope
		}
		e.breeder.make(child, operator, mates.choose(&e.breeder, target, operator), target, often)
	}
	if err := e.evaluate(children); err != nil {
		return err
	}
	for _, m := range e.population {
		e.scaling.setViolation(m)
	}
	survivors := e.survive(compete(e.population, children), e.populationSize())
	e.shares.learn(children, survivors)
	e.population = survivors
	for _, m := range children {
		m.rival = nil // or every ancestor would stay in memory
	}
	return nil
}

func (e *engine) usableOperators() (can [operators]bool) {
	can[operatorCrossover] = true
	if e.settings.Plain {
		return can
	}
	can[operatorNarrow], can[operatorWide], can[operatorWhole] = true, true, !e.manyObjectives()
	can[operatorNeighbour] = len(e.archive.members) >= 5
	can[operatorPredict] = e.curved() && can[operatorNeighbour] && float64(e.used) >= curveStart*e.horizon()
	can[operatorCorrect] = can[operatorPredict]
	can[operatorSegment] = len(e.archive.members) > 0 && len(e.infeasible) > 0
	can[operatorSlope] = e.constraints > 0
	return can
}

func (e *engine) drawOperator(weights [operators]float64) int {
	r := e.breeder.rng.Float64()
	for k, w := range weights {
		if r -= w; r < 0 {
			return k
		}
	}
	return operatorNarrow
}

// compete settles each child against its own parent: the better one of the two stays, both
// when neither is. It keeps a converging population from collapsing onto one point.
func compete(parents, children []*member) []*member {
	out := make([]*member, 0, len(parents)+len(children))
	beaten := map[*member]bool{}
	for _, c := range children {
		if c.rival != nil && better(c, c.rival) {
			beaten[c.rival] = true
		}
	}
	for _, p := range parents {
		if !beaten[p] {
			out = append(out, p)
		}
	}
	for _, c := range children {
		if c.rival == nil || !better(c.rival, c) {
			out = append(out, c)
		}
	}
	return out
}
