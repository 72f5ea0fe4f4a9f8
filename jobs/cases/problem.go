package cases

import (
	"math"
	"slices"
	"sync/atomic"

	"forkfront/constraints"
	"forkfront/jobs/files"
	"forkfront/kinematics"
	"forkfront/objectives"
	"forkfront/objectives/clearance"
	"forkfront/objectives/fork"
	"forkfront/optimize"
)

// Case is one search of a job: one bike, one mechanism with bounds for its pivots, the shocks to
// choose from, and what is wanted.
type Case struct {
	Name       string
	Bike       string
	Package    string // name of the package; empty: the job has none
	Seed       uint64 // of the job
	Mechanism  *kinematics.Mechanism
	Conditions *objectives.Conditions
	Goals      []objectives.Goal
	Limits     []constraints.Limit
	Shock      fork.Shock // count; the rest comes from Shocks
	Shocks     []ShockSize
	Fixed      []kinematics.Vec[float64] // layout; positions that vary are overwritten
	Free       []Free
	Across     *fork.Across // lateral positions of the mechanism's parts
	Arranged   bool         // the job gives some of these positions; otherwise all are defaults
	Room       *clearance.Assembly
	Materials  []fork.Material
	Choices    []files.Material // the same as the job has them

	First        []float64                      // a candidate to begin with; nil: none
	Gate         gate                           // where evaluations of all cases queue; nil: open
	arrangements func() *clearance.Arrangements // of its parts, which the search keeps apart, found when it first asks; nil: not known
	violated     []atomic.Int64                 // evaluations that violated "works" or a limit, in the order of Constraints
	coilLimit    int                            // index in Limits of the one for coils only; −1: none
	lowerFixed   bool                           // an angle about the lower eye of the shock gives the position of the upper one
	Template     files.ConceptFile              // what all candidates share; extract puts a candidate's points into it
}

// ShockSize is an available shock.
type ShockSize struct {
	files.JobShock
	Air *fork.AirSpring // nil: a coil
}

// Free is one variable of a case and what of the fork it sets.
type Free struct {
	Variable optimize.Variable
	Kind     FreeKind
	Point    int // of a coordinate
}

// FreeKind tells what a variable sets.
type FreeKind int

// Kinds of variables. One of the shock's eyes, the lower one unless its position is given, has polar coordinates
// about the other, with the eye-to-eye length as radius, so that a shock of discrete size always fits.
const (
	FreeAlong FreeKind = iota
	FreeAhead
	FreeShockAngle // rad from along towards ahead, direction of the shock's lower eye from its upper one
	FreeShock      // index into Shocks
	FreeMaterial   // index into Materials
)

// problem is a case as the search sees it; each worker has its own memory.
type problem struct {
	c         *Case
	scorer    *objectives.Scorer
	design    objectives.Design
	score     objectives.Score
	direction []kinematics.Vec[float64]
	required  []int // measures that objectives or limits name
	sloped    []int // those, and the pressure of air springs, which coils do not have
	slow      bool  // only Complete computes one of them; it has no slope
	slopes    []float64
}

// Problem gives the case to a search.
func (c *Case) Problem() optimize.Differentiable { return c.Worker() }

// Worker is the case as a problem with memory of its own, for one goroutine.
func (c *Case) Worker() *problem {
	p := &problem{
		c: c, scorer: objectives.NewScorer(c.Conditions),
		design:    objectives.Design{Mechanism: c.Mechanism, Layout: make([]kinematics.Vec[float64], len(c.Fixed))},
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
	p.required = slices.Compact(p.required)
	p.sloped = p.required
	if slices.ContainsFunc(c.Shocks, func(k ShockSize) bool { return k.Air != nil }) {
		p.sloped = append(slices.Clone(p.required), objectives.AirPressure)
	}
	p.slow = slices.ContainsFunc(p.required, func(i int) bool { return objectives.Measures[i].Slow() })
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
		all = append(all, optimize.Objective{Name: objectives.Measures[g.Measure].Name, Resolution: g.Resolution})
	}
	return all
}

// Constraints are whether the fork works at all, with tubes no larger than allowed, and the limits of the job.
func (p *problem) Constraints() []string {
	all := []string{"works"}
	for _, l := range p.c.Limits {
		all = append(all, objectives.Measures[l.Measure].Name)
	}
	return all
}

// Design is the fork that the variables x, in their natural units, describe.
func (c *Case) Design(dst *objectives.Design, x []float64) {
	dst.Mechanism, dst.Shock = c.Mechanism, c.Shock
	dst.Layout = append(dst.Layout[:0], c.Fixed...)
	size := c.ShockOf(x)
	angle, polar := 0.0, false
	for i := range c.Free {
		switch f := &c.Free[i]; f.Kind {
		case FreeAlong:
			dst.Layout[f.Point].Along = x[i]
		case FreeAhead:
			dst.Layout[f.Point].Ahead = x[i]
		case FreeShockAngle:
			angle, polar = x[i], true
		}
	}
	dst.Shock.EyeToEyeMM, dst.Shock.StrokeMM, dst.Shock.MassG = size.EyeToEyeMM, size.StrokeMM, size.MassG
	dst.Shock.PreloadMM, dst.Shock.Air = size.PreloadMM, size.Air
	dst.Across, dst.Material, dst.Room = c.Across, c.MaterialOf(x), c.Room
	if polar {
		sin, cos := math.Sincos(angle)
		from, hung, way := c.ShockEyes()
		dst.Layout[hung] = kinematics.Vec[float64]{
			Along: dst.Layout[from].Along + way*size.EyeToEyeMM*cos, Ahead: dst.Layout[from].Ahead + way*size.EyeToEyeMM*sin,
		}
	}
}

// ShockOf is the shock that the variables choose, the only one where there is no choice.
func (c *Case) ShockOf(x []float64) ShockSize {
	for i := range c.Free {
		if c.Free[i].Kind == FreeShock {
			return c.Shocks[int(math.Round(x[i]))]
		}
	}
	return c.Shocks[0]
}

// MaterialOf is the material that the variables choose, the only one where there is no choice.
func (c *Case) MaterialOf(x []float64) *fork.Material {
	for i := range c.Free {
		if c.Free[i].Kind == FreeMaterial {
			return &c.Materials[int(math.Round(x[i]))]
		}
	}
	if len(c.Materials) == 0 {
		return nil
	}
	return &c.Materials[0]
}

func (p *problem) Evaluate(dst *optimize.Outcome, x []float64) {
	p.c.Gate.enter()
	defer p.c.Gate.leave()
	p.c.Design(&p.design, x)
	study := p.scorer.Score(&p.score, &p.design)
	if p.slow {
		study.Complete(&p.score)
	}
	p.c.judge(dst, &p.score, p.design.Shock.Air != nil)
	p.c.count(dst)
}

// judge turns a score into what the search compares. A design without a value for an objective violates the
// constraint "works".
func (c *Case) judge(dst *optimize.Outcome, s *objectives.Score, air bool) {
	dst.G[0] = math.Max(constraints.Works(s, c.Conditions.TravelMM), c.Beyond(s))
	for i := range c.Limits {
		if c.Waived(i, air) {
			dst.G[1+i] = -1
			continue
		}
		dst.G[1+i] = c.Limits[i].Amount(s)
	}
	for i := range c.Goals {
		g := &c.Goals[i]
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

// Gradient gives the exact derivatives of objectives and constraints.
func (p *problem) Gradient(df, dg [][]float64, x []float64) bool {
	if p.slow {
		return false
	}
	p.c.Gate.enter()
	defer p.c.Gate.leave()
	p.c.Design(&p.design, x)
	study := p.scorer.Score(&p.score, &p.design)
	for _, i := range p.required {
		if p.score.Missing[i] != "" {
			return false
		}
	}
	for v := range p.c.Free {
		along := p.c.direct(p.direction, v, &p.design)
		if along {
			study.Slope(p.slopes, p.direction, p.sloped)
		}
		p.column(df, dg, v, along)
	}
	return true
}

// column fills one variable's column; a discrete variable's is 0.
func (p *problem) column(df, dg [][]float64, v int, along bool) {
	for i := range p.c.Goals {
		g := &p.c.Goals[i]
		df[i][v] = 0
		if along {
			df[i][v] = g.Slope(p.score.Values[g.Measure]) * p.slopes[g.Measure]
		}
	}
	dg[0][v] = 0
	if l, by := constraints.Beyond(p.c.Conditions.Structure, &p.score); along && by > 0 {
		dg[0][v] = l.Slope(&p.score) * p.slopes[l.Measure]
	}
	for i := range p.c.Limits {
		l := &p.c.Limits[i]
		dg[1+i][v] = 0
		if along && !p.c.Waived(i, p.design.Shock.Air != nil) {
			dg[1+i][v] = l.Slope(&p.score) * p.slopes[l.Measure]
		}
	}
}

// direct sets dst to the derivative of the layout with respect to variable v; false for a discrete one.
func (c *Case) direct(dst []kinematics.Vec[float64], v int, d *objectives.Design) bool {
	clear(dst)
	f := &c.Free[v]
	move := kinematics.Vec[float64]{}
	switch f.Kind {
	case FreeShock, FreeMaterial:
		return false
	case FreeAlong:
		move.Along = 1
	case FreeAhead:
		move.Ahead = 1
	case FreeShockAngle:
		from, hung, _ := c.ShockEyes()
		at, about := d.Layout[hung], d.Layout[from]
		dst[hung] = kinematics.Vec[float64]{Along: about.Ahead - at.Ahead, Ahead: at.Along - about.Along}
		return true
	}
	dst[f.Point] = move
	if from, hung, _ := c.ShockEyes(); f.Point == from && c.Polar() {
		dst[hung] = move // one eye moves with the other
	}
	return true
}

// ShockEyes returns the eye of the shock that has its own coordinates and the one with an angle about it; way is 1
// where the latter is the lower one, else −1.
func (c *Case) ShockEyes() (from, hung int, way float64) {
	upper, lower := c.Mechanism.Point(kinematics.PointShockUpper), c.Mechanism.Point(kinematics.PointShockLower)
	if c.lowerFixed {
		return lower, upper, -1
	}
	return upper, lower, 1
}

// Polar tells whether an eye of the shock has an angle instead of coordinates.
func (c *Case) Polar() bool {
	for i := range c.Free {
		if c.Free[i].Kind == FreeShockAngle {
			return true
		}
	}
	return false
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
