package cases

import (
	"math"
	"slices"

	"forkfront/constraints"
	"forkfront/kinematics"
	"forkfront/objectives"
	"forkfront/optimize"
)

// problem is a case as the search sees it; each worker has its own memory.
type problem struct {
	c         *Case
	designer  *Designer
	scorer    *objectives.Scorer
	design    objectives.Design
	score     objectives.Score
	study     objectives.Study  // of the fork scored last
	at        []float64         // its variables; none before the first
	laid      objectives.Design // scratch of Niche, which must not touch what the study is of
	direction []kinematics.Vec[float64]
	required  []int // measures that objectives or limits name
	sloped    []int // those, and the pressure of air springs, which coils do not have
	slow      bool  // only Complete computes one of them
	slopeless bool  // one of them has no slope
	slopes    []float64
}

// Problem gives the case to a search.
func (c *Case) Problem() optimize.Differentiable {
	if len(c.EventMeasures()) > 0 {
		return c.simulated()
	}
	return c.Worker()
}

// Worker is the case as a problem with memory of its own, for one goroutine. What is about events it leaves as if it were met.
func (c *Case) Worker() *problem {
	p := &problem{
		c: c, designer: c.Designer(), scorer: objectives.NewScorer(c.Conditions),
		design:    objectives.Design{Mechanism: c.Mechanism, Layout: make([]kinematics.Vec[float64], len(c.Fixed))},
		laid:      objectives.Design{Mechanism: c.Mechanism, Layout: make([]kinematics.Vec[float64], len(c.Fixed))},
		direction: make([]kinematics.Vec[float64], len(c.Fixed)),
		slopes:    make([]float64, len(objectives.Measures)),
	}
	for i := range c.Goals {
		p.required = append(p.required, c.Goals[i].Measure)
	}
	for i := range c.Limits {
		p.required = append(p.required, c.Limits[i].Measure)
	}
	if c.Conditions.Structure != nil && c.Mechanism.Unsized() == "" && c.Mechanism.HasShock() {
		p.required = append(p.required, objectives.TubeDiameterMax)
	}
	slices.Sort(p.required)
	p.required = slices.DeleteFunc(slices.Compact(p.required), late)
	p.sloped = p.required
	if slices.ContainsFunc(c.Shocks, func(k ShockSize) bool { return k.Air != nil }) {
		p.sloped = append(slices.Clone(p.required), objectives.AirPressure)
	}
	p.slow = slices.ContainsFunc(p.required, func(i int) bool { return objectives.At(i).Slow() })
	p.slopeless = slices.ContainsFunc(p.required, func(i int) bool { return !objectives.At(i).HasSlope(c.Conditions) })
	return p
}

func (p *problem) Fork() optimize.Problem { return p.c.Worker() }

func (p *problem) Variables() []optimize.Variable {
	var all []optimize.Variable
	for i := range p.c.Free {
		all = append(all, p.c.Free[i].Variable)
	}
	return all
}

func (p *problem) Objectives() []optimize.Objective {
	var all []optimize.Objective
	for _, g := range p.c.Goals {
		all = append(all, optimize.Objective{Name: objectives.At(g.Measure).Name, Resolution: g.Resolution})
	}
	return all
}

// Constraints are whether the fork works at all, with tubes no larger than allowed, and the limits of the job.
func (p *problem) Constraints() []string {
	all := []string{"works"}
	for _, l := range p.c.Limits {
		all = append(all, objectives.At(l.Measure).Name)
	}
	return all
}

func (p *problem) Evaluate(dst *optimize.Outcome, x []float64) {
	p.c.Gate.enter()
	defer p.c.Gate.leave()
	study := p.scored(x)
	p.c.judge(dst, &p.score, p.design.Shock.Air != nil)
	if i := p.c.LimitOn(objectives.Clearance); i >= 0 && dst.G[1+i] > 0 {
		dst.G[1+i] += study.Crossing(p.c.Limits[i].Min) / objectives.At(objectives.Clearance).Scale // which the gap alone does not show
	}
	p.c.count(dst)
}

// scored is the fork of the variables x with its score. Of the fork scored last nothing is found again: a gradient usually comes after
// an evaluation.
func (p *problem) scored(x []float64) objectives.Study {
	if len(p.at) > 0 && slices.Equal(p.at, x) {
		return p.study
	}
	p.at = p.at[:0] // until it is known what the memory holds
	p.designer.Design(&p.design, x)
	p.study = p.scorer.Score(&p.score, &p.design)
	if p.slow {
		p.study.CompleteSome(&p.score, p.required)
	}
	p.at = append(p.at, x...)
	return p.study
}

// judge turns a score into what the search compares. A design without a value for an objective violates the
// constraint "works".
func (c *Case) judge(dst *optimize.Outcome, s *objectives.Score, air bool) {
	dst.G[0] = math.Max(constraints.Works(s, c.Conditions.TravelMM), c.Beyond(s))
	for i := range c.Limits {
		if c.Waived(i, air) || late(c.Limits[i].Measure) {
			dst.G[1+i] = -1
			continue
		}
		dst.G[1+i] = c.Limits[i].Amount(s)
	}
	for i := range c.Goals {
		g := &c.Goals[i]
		if late(g.Measure) {
			dst.F[i] = 0
			continue
		}
		if s.Missing[g.Measure] != "" {
			dst.F[i] = math.Inf(1)
			dst.G[0] = math.Max(dst.G[0], 1)
			continue
		}
		dst.F[i] = g.Value(s.Values[g.Measure])
	}
}

// Beyond is by how much a fork exceeds what can be built or bought: the largest tube, the pressure of an air spring.
func (c *Case) Beyond(s *objectives.Score) float64 {
	_, by := constraints.Beyond(c.Conditions.Structure, s)
	return by
}

// count counts the constraints that designs violate, for the log.
func (c *Case) count(o *optimize.Outcome) {
	for i, g := range o.G {
		if g > 0 && i < len(c.violated) {
			c.violated[i].Add(1)
		}
	}
}

// LimitOn is the number of a case's limit on a measure; -1 where it has none.
func (c *Case) LimitOn(measure int) int {
	return slices.IndexFunc(c.Limits, func(l constraints.Limit) bool { return l.Measure == measure })
}

// Failures returns how many evaluations violated each constraint since the last call.
func (c *Case) Failures() map[string]int {
	counts := map[string]int{}
	for i, name := range c.Problem().Constraints() {
		if n := c.violated[i].Swap(0); n > 0 {
			counts[name] = int(n)
		}
	}
	return counts
}
