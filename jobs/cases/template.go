package cases

import (
	"forkfront/jobs/files"
	"forkfront/jobs/files/sections"
	"forkfront/kinematics/scheme"
	"forkfront/objectives/fork"
)

// template is what all candidates of a case share, as a concept. It has the fixed points of c, and those that vary at
// some position within their bounds.
func template(j *files.JobFile, bike int, c *Case, jm *files.JobMechanism) files.ConceptFile {
	across := jm.Across
	across.Shafts = settled(c)
	t := files.ConceptFile{
		Concept: c.Name, Bike: j.Bikes[bike], Mechanism: jm.Mechanism, Spec: jm.Spec, PointsMM: map[string]sections.Point{},
		Travel: j.Travel, Ride: j.Ride, Aims: j.Aims, Dynamics: j.Dynamics, Surroundings: j.Surroundings, Build: j.Build,
		Material: j.Materials[0], Across: across,
	}
	for name, b := range jm.BoundsMM {
		t.PointsMM[name] = sections.Point{b.Along.Low, b.Ahead.Low}
	}
	if c.Mechanism.HasShock() {
		first := c.Shocks[0].Unit(jm.ShockCount)
		t.Shock = &first
	}
	return t
}

// settled are the shafts as the case determined them at the middle of its bounds: an extracted candidate would
// determine them at its own points, and the result could differ.
func settled(c *Case) map[string]string {
	all := map[string]string{}
	for i, kind := range c.Across.Shafts {
		switch name := c.Mechanism.Points[i]; {
		case name == scheme.PointAxle || name == scheme.PointRoot:
		case kind == fork.ShaftThrough:
			all[name] = sections.ShaftThrough
		case kind == fork.ShaftStub:
			all[name] = sections.ShaftStub
		}
	}
	return all
}
