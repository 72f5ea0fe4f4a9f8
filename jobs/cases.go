package jobs

import (
	"fmt"
	"math"
	"slices"
	"sync/atomic"

	"forkfront/constraints"
	"forkfront/kinematics"
	"forkfront/objectives"
	"forkfront/optimize"
)

// measureNames lists the registry, for suggestions.
func measureNames() []string {
	var names []string
	for i := range objectives.Measures {
		names = append(names, objectives.Measures[i].Name)
	}
	return names
}

func knownMeasure(name string) bool { return objectives.Index(name) >= 0 }

// Cases are all combinations of a job's bikes, mechanisms or concepts to start from, seeds and what
// else it sweeps, each a search of its own.
func (j *JobFile) Cases() []*Case {
	var cases []*Case
	for _, v := range j.variants() {
		cases = append(cases, v.job.casesOf(v.name)...)
	}
	return cases
}

// casesOf are the cases of a job whose choices are made.
func (j *JobFile) casesOf(variant string) []*Case {
	var cases []*Case
	for b := range j.Bikes {
		conditions := j.conditions(&j.Bikes[b])
		for m := range j.Mechanisms {
			for _, seed := range j.Seeds {
				cases = append(cases, j.newCase(b, conditions, &j.Mechanisms[m], "", variant, j.Shocks, seed))
			}
		}
		for i := range j.Start {
			st := &j.Start[i]
			sizes := j.Shocks
			if len(sizes) == 0 && st.OwnShock.EyeToEyeMM > 0 {
				sizes = []JobShock{st.OwnShock}
			}
			for _, seed := range j.Seeds {
				c := j.newCase(b, conditions, &st.Around, st.Name, variant, sizes, seed)
				c.first = c.begin(st)
				cases = append(cases, c)
			}
		}
	}
	return cases
}

func (j *JobFile) conditions(b *Bike) *objectives.Conditions {
	c := &objectives.Conditions{
		Chassis: b.Chassis(j.Level()), TravelMM: j.TravelMM, SagPct: j.SagPct, BrakingG: j.BrakingG,
		Leverage:  objectives.Band{Low: j.LeverageBand[0], High: j.LeverageBand[1]},
		AntiDive:  objectives.Band{Low: j.AntiDiveBand[0], High: j.AntiDiveBand[1]},
		CoilRates: j.CoilRatesNPerMM, Samples: samples, Structure: j.Structure.model(&j.Telescopic),
	}
	c.Prepare()
	return c
}

// bikeName is a bike's name, or its number where it has none.
func (j *JobFile) bikeName(i int) string {
	if name := j.Bikes[i].Name; name != "" {
		return name
	}
	return fmt.Sprintf("bike-%d", i+1)
}

func (j *JobFile) newCase(bike int, conditions *objectives.Conditions, jm *JobMechanism, name, variant string, sizes []JobShock, seed uint64) *Case {
	m := compile(jm.Spec)
	if name == "" {
		name = m.Name
	}
	c := &Case{
		Name: j.caseName(bike, name, variant, seed), Bike: j.bikeName(bike), Package: j.Package.Name, Seed: seed, Mechanism: m, Conditions: conditions,
		Shock: objectives.Shock{Count: jm.ShockCount}, Fixed: make([]kinematics.Vec[float64], len(m.Points)),
	}
	c.Fixed[m.Point(kinematics.PointRoot)].Along = 25
	c.Across = jm.Across.model(m)
	c.materials(j.Materials)
	c.Fixed[m.Point(kinematics.PointAxle)] = kinematics.Vec[float64]{Along: conditions.Chassis.AxleToCrownMM, Ahead: conditions.Chassis.ForkOffsetMM}
	for _, name := range m.Points {
		if bounds, ok := jm.BoundsMM[name]; ok {
			c.place(m.Point(name), name, bounds)
		}
	}
	_, c.lowerHeld = jm.BoundsMM[kinematics.PointShockLower]
	c.shocks(sizes, jm)
	c.Room = j.Package.room(m, conditions, c.Across, c.middle(), &c.Shock)
	c.wants(j)
	c.Template = j.template(bike, c, jm)
	return c
}

// middle is the layout with every variable half way between its bounds.
func (c *Case) middle() []kinematics.Vec[float64] {
	if len(c.Shocks) == 0 {
		c.Shocks = []ShockSize{{}} // a mechanism without a shock chooses none
	}
	x := make([]float64, len(c.Free))
	for i := range c.Free {
		if v := &c.Free[i].Variable; v.Levels == 0 {
			x[i] = (v.Low + v.High) / 2
		}
	}
	var d objectives.Design
	c.Design(&d, x)
	return d.Layout
}

// wants takes the job's objectives and constraints.
func (c *Case) wants(j *JobFile) {
	c.coilLimit = -1
	for i := range j.Objectives {
		c.Goals = append(c.Goals, j.Objectives[i].goal())
	}
	for i := range j.Constraints {
		l := &j.Constraints[i]
		if !l.Off && !(l.Default && c.exempt(l) != "") {
			if l.Default && l.Measure == springRate {
				c.coilLimit = len(c.Limits)
			}
			c.Limits = append(c.Limits, l.limit())
		}
	}
	c.broken = make([]atomic.Int64, 1+len(c.Limits))
}

// place fixes a point or makes variables of its coordinates.
func (c *Case) place(point int, name string, b Bounds) {
	c.Fixed[point] = kinematics.Vec[float64]{Along: b.Along.Low, Ahead: b.Ahead.Low}
	if !b.Along.Fixed() {
		c.Free = append(c.Free, Free{optimize.Variable{Name: name + "_along_mm", Low: b.Along.Low, High: b.Along.High}, FreeAlong, point})
	}
	if !b.Ahead.Fixed() {
		c.Free = append(c.Free, Free{optimize.Variable{Name: name + "_ahead_mm", Low: b.Ahead.Low, High: b.Ahead.High}, FreeAhead, point})
	}
}

func (c *Case) shocks(sizes []JobShock, jm *JobMechanism) {
	for _, k := range sizes {
		unit := k.unit(1)
		c.Shocks = append(c.Shocks, ShockSize{k, unit.air()})
	}
	if jm.ShockAngleRad != nil {
		r := *jm.ShockAngleRad
		c.Free = append(c.Free, Free{optimize.Variable{Name: "shock_angle_rad", Low: r.Low, High: r.High}, FreeShockAngle, -1})
	}
	if len(sizes) > 1 {
		c.Free = append(c.Free, Free{optimize.Variable{Name: "shock", High: float64(len(sizes) - 1), Levels: len(sizes), Categorical: true}, FreeShock, -1})
	}
}

func (c *Case) materials(all []Material) {
	c.Choices = all
	for i := range all {
		c.Materials = append(c.Materials, *all[i].model())
	}
	if len(all) > 1 {
		c.Free = append(c.Free, Free{optimize.Variable{Name: "material", High: float64(len(all) - 1), Levels: len(all), Categorical: true}, FreeMaterial, -1})
	}
}

func (o *JobObjective) goal() objectives.Goal {
	i := objectives.Index(o.Measure)
	g := objectives.Goal{Measure: i, Resolution: objectives.Measures[i].Resolution, Enough: o.Enough}
	if o.Resolution != nil {
		g.Resolution = *o.Resolution
	}
	switch {
	case o.Band != nil:
		g.Aim, g.Band = objectives.Within, objectives.Band{Low: o.Band[0], High: o.Band[1]}
	case o.Sense == "max":
		g.Aim = objectives.Largest
	}
	return g
}

func (l *JobConstraint) limit() constraints.Limit {
	limit := constraints.Limit{Measure: objectives.Index(l.Measure), Min: math.Inf(-1), Max: math.Inf(1)}
	if l.Min != nil {
		limit.Min = *l.Min
	}
	if l.Max != nil {
		limit.Max = *l.Max
	}
	return limit
}

// variableNames are the numbers that any of the cases varies, sorted. The choices of a shock and of a
// material are not among them: they have columns that name them.
func variableNames(all []found) []string {
	var names []string
	for _, f := range all {
		for i := range f.c.Free {
			if k := f.c.Free[i].Kind; k != FreeShock && k != FreeMaterial {
				names = append(names, f.c.Free[i].Variable.Name)
			}
		}
	}
	slices.Sort(names)
	return slices.Compact(names)
}

// variable finds a variable by name, or -1.
func (c *Case) variable(name string) int {
	return slices.IndexFunc(c.Free, func(f Free) bool { return f.Variable.Name == name })
}
