package cases

import (
	"fmt"
	"hash/fnv"
	"math"
	"slices"
	"sync"
	"sync/atomic"

	"forkfront/constraints"
	"forkfront/jobs/files"
	"forkfront/jobs/files/sections"
	"forkfront/kinematics"
	"forkfront/kinematics/scheme"
	"forkfront/objectives"
	"forkfront/objectives/fork"
	"forkfront/objectives/ride"
	"forkfront/optimize"
)

// Cases are all combinations of a job's bikes, mechanisms or concepts to start from, seeds and what
// else it sweeps, each a search of its own.
func Cases(j *files.JobFile) []*Case {
	var cases []*Case
	for _, v := range j.Variants() {
		cases = append(cases, casesOf(&v.Job, v.Name)...)
	}
	return cases
}

// casesOf are the cases of a job with one value for each choice.
func casesOf(j *files.JobFile, variant string) []*Case {
	var cases []*Case
	for b := range j.Bikes {
		conditions := conditionsOf(j.Bikes[b].Chassis(j.Level()), &j.Travel, &j.Ride, &j.Aims, &j.Dynamics, &j.Build)
		for m := range j.Mechanisms {
			jm := &j.Mechanisms[m]
			cases = append(cases, newCase(j, b, conditions, jm, j.Shocks).seeded(j, b, jm.Spec.Name, variant)...)
		}
		for i := range j.Start {
			st := &j.Start[i]
			sizes := j.Shocks
			if len(sizes) == 0 && st.OwnShock.EyeToEyeMM > 0 {
				sizes = []sections.JobShock{st.OwnShock}
			}
			c := newCase(j, b, conditions, &st.Around, sizes)
			c.First = c.begin(st)
			cases = append(cases, c.seeded(j, b, st.Name, variant)...)
		}
	}
	return cases
}

// seeded are the cases of all seeds: what they share is worked out once.
func (c *Case) seeded(j *files.JobFile, bike int, name, variant string) []*Case {
	var cases []*Case
	for _, seed := range j.Seeds {
		k := *c
		k.Name, k.Seed = j.CaseName(bike, name, variant, seed), seed
		k.Template.Concept = k.Name
		k.violated = make([]atomic.Int64, len(c.violated))
		cases = append(cases, &k)
	}
	return cases
}

// newCase is a case without a name and a seed.
func newCase(j *files.JobFile, bike int, conditions *objectives.Conditions, jm *files.JobMechanism, sizes []sections.JobShock) *Case {
	m := files.Compile(jm.Spec)
	c := &Case{
		Bike: j.BikeName(bike), Package: j.Package.Name, Mechanism: m, Conditions: conditions,
		Shock: fork.Shock{Count: jm.ShockCount}, Fixed: make([]kinematics.Vec[float64], len(m.Points)),
	}
	c.Fixed[m.Point(scheme.PointRoot)].Along = 25
	c.Across, c.Arranged, c.halfWidths = jm.Across.Model(m), jm.Across.Given(), jm.Across.HalfWidthMM
	c.lanes(jm)
	c.materials(j.Materials)
	c.Fixed[m.Point(scheme.PointAxle)] = kinematics.Vec[float64]{Along: conditions.Chassis.AxleToCrownMM, Ahead: conditions.Chassis.ForkOffsetMM}
	for _, name := range m.Points {
		if bounds, ok := jm.BoundsMM[name]; ok {
			c.place(m.Point(name), name, bounds)
		}
	}
	_, c.lowerFixed = jm.BoundsMM[scheme.PointShockLower]
	c.shocks(sizes, jm)
	c.Assembly = j.Package.Assembly(m, conditions, c.Across, c.middle(), &c.Shock)
	if c.Assembly != nil && c.Assembly.Missing == "" {
		c.arrangements = sync.OnceValue(c.arrange)
	}
	c.Require(j)
	c.Template = template(j, bike, c, jm)
	return c
}

// middle is the layout with every variable halfway between its bounds.
func (c *Case) middle() []kinematics.Vec[float64] {
	if len(c.Shocks) == 0 {
		c.Shocks = []ShockSize{{}} // a mechanism without a shock has no choice
	}
	x := make([]float64, len(c.Free))
	for i := range c.Free {
		if v := &c.Free[i].Variable; v.Levels == 0 {
			x[i] = (v.Low + v.High) / 2
		}
	}
	return c.Layout(x)
}

// Require adds the job's objectives and constraints.
func (c *Case) Require(j *files.JobFile) {
	c.coilLimit = -1
	for i := range j.Objectives {
		c.Goals = append(c.Goals, goal(&j.Objectives[i]))
	}
	for i := range j.Constraints {
		l := &j.Constraints[i]
		if l.After {
			c.After = append(c.After, *l)
		}
		if !l.Off && !l.After && !(l.Default && c.Exempt(l) != "") {
			if l.Default && l.Measure == SpringRate {
				c.coilLimit = len(c.Limits)
			}
			c.Limits = append(c.Limits, limit(l))
		}
	}
	c.violated = make([]atomic.Int64, 1+len(c.Limits))
}

// place fixes a point or makes variables of its coordinates.
func (c *Case) place(point int, name string, b files.Bounds) {
	c.Fixed[point] = kinematics.Vec[float64]{Along: b.Along.Low, Ahead: b.Ahead.Low}
	if !b.Along.Fixed() {
		c.Free = append(c.Free, Free{Variable: optimize.Variable{Name: ColumnAlong(name), Low: b.Along.Low, High: b.Along.High}, Kind: FreeAlong, Point: point})
	}
	if !b.Ahead.Fixed() {
		c.Free = append(c.Free, Free{Variable: optimize.Variable{Name: ColumnAhead(name), Low: b.Ahead.Low, High: b.Ahead.High}, Kind: FreeAhead, Point: point})
	}
}

func (c *Case) shocks(sizes []sections.JobShock, jm *files.JobMechanism) {
	for _, k := range sizes {
		unit := k.Unit(1)
		c.Shocks = append(c.Shocks, ShockSize{k, unit.Air()})
	}
	if jm.ShockAngleRad != nil {
		r := *jm.ShockAngleRad
		c.Free = append(c.Free, Free{Variable: optimize.Variable{Name: ColumnShockAngle, Low: r.Low, High: r.High}, Kind: FreeShockAngle, Point: -1})
	}
	if len(sizes) > 1 {
		c.Free = append(c.Free, Free{Variable: optimize.Variable{Name: "shock", High: float64(len(sizes) - 1), Levels: len(sizes), Categorical: true}, Kind: FreeShock, Point: -1})
	}
}

// lanes makes a variable of each body with half widths to choose from. Until one is chosen it is at the first.
func (c *Case) lanes(jm *files.JobMechanism) {
	for i, body := range c.Mechanism.Bodies {
		lanes := jm.LanesMM[body]
		if len(lanes) == 0 {
			continue
		}
		c.Arranged = true
		c.Across.HalfWidthMM[i] = lanes[0]
		v := optimize.Variable{Name: ColumnHalfWidth(body), High: float64(len(lanes) - 1), Levels: len(lanes), Categorical: true}
		c.Free = append(c.Free, Free{Variable: v, Kind: FreeLane, Point: -1, Body: i, LanesMM: lanes})
	}
}

func (c *Case) materials(all []sections.Material) {
	c.Choices = all
	for i := range all {
		c.Materials = append(c.Materials, *all[i].Model())
	}
	if len(all) > 1 {
		c.Free = append(c.Free, Free{Variable: optimize.Variable{Name: ColumnMaterial, High: float64(len(all) - 1), Levels: len(all), Categorical: true}, Kind: FreeMaterial, Point: -1})
	}
}

func goal(o *files.JobObjective) objectives.Goal {
	i := objectives.Index(o.Measure)
	g := objectives.Goal{Measure: i, Resolution: objectives.At(i).Resolution, Enough: o.Enough}
	if o.Resolution != nil {
		g.Resolution = *o.Resolution
	}
	switch {
	case o.Band != nil:
		g.Aim, g.Band = objectives.Within, ride.Band{Low: o.Band[0], High: o.Band[1]}
	case o.Sense == "max":
		g.Aim = objectives.Largest
	}
	return g
}

func limit(l *files.JobConstraint) constraints.Limit {
	limit := constraints.Limit{Measure: objectives.Index(l.Measure), Min: math.Inf(-1), Max: math.Inf(1)}
	if l.Min != nil {
		limit.Min = *l.Min
	}
	if l.Max != nil {
		limit.Max = *l.Max
	}
	return limit
}

// Variable finds a variable by name, or -1.
func (c *Case) Variable(name string) int {
	return slices.IndexFunc(c.Free, func(f Free) bool { return f.Variable.Name == name })
}

// SearchSeed is the seed of a case's search. It follows from the job's seed and the case's name, so that a case finds
// the same front whether it is searched by itself or in a sweep.
func (c *Case) SearchSeed() uint64 {
	h := fnv.New64a()
	fmt.Fprintf(h, "%d %s", c.Seed, c.Name)
	return h.Sum64()
}
