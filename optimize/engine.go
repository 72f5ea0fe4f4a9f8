package optimize

import (
	"context"
	"crypto/sha256"
	"math"
	"time"

	"forkfront/optimize/archive"
	"forkfront/optimize/population"
	"forkfront/optimize/problem"
	"forkfront/optimize/random"
	"forkfront/optimize/survival"
	"forkfront/optimize/variation"
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
	space         problem.Space
	objectives    []Objective
	constraints   int // number of constraints
	pool          *workers.Pool[Problem]
	source        random.Source // of what operators draws
	operators     *variation.Operators
	selection     *survival.Selection
	archive       *archive.Archive
	scaling       population.ConstraintScale
	population    []*population.Member
	infeasible    []*population.Member // found lately, the latest last
	gradient      gradientStage
	evolution     evolution // with one objective
	growth        archive.Growth
	late          *lateStage // of a staged problem; nil: it is not
	size          int        // population that the plan starts from

	used, number, feasible, generations int
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

func (e *engine) newMembers(n int) []*population.Member {
	return e.late.equip(population.New(n, len(e.space.Variables), len(e.objectives), e.constraints))
}

// manyObjectives reports whether the search looks for missing parts of the front by resets only. With many objectives
// and no constraints it converges soon, only the spread counts, and what ends and whole differences among
// neighbours find is less than they cost (DTLZ2 with six objectives: 0.9037 instead of 0.9060).
func (e *engine) manyObjectives() bool { return len(e.objectives) > 3 && e.constraints == 0 }

// survive returns the n members that go on.
func (e *engine) survive(members []*population.Member, n int) []*population.Member {
	now := survival.Moment{Done: float64(e.used) / e.horizon(), Divided: e.divided(), Archive: e.archive}
	return e.selection.Survive(members, n, now)
}

// divided reports whether niches are divided.
func (e *engine) divided() bool { return population.Divides(&e.space, e.horizon()) }

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

// mostMembers is the largest population that a restart may make.
func (e *engine) mostMembers() int { return max(endlessMost, e.size) }

// elapsed is the time spent so far, that before a resume included.
func (e *engine) elapsed() time.Duration { return e.elapsedBefore + time.Since(e.began) }
