package cases

import (
	"forkfront/jobs/files"
	"forkfront/jobs/files/sections"
	"forkfront/objectives"
)

// Expected is a case with the default limits only, for the fork of a concept: those on coils and stiffness follow
// from the concept's own file.
func Expected(c *files.ConceptFile, conditions *objectives.Conditions, d *objectives.Design) *Case {
	job := &files.JobFile{Aims: c.Aims, Dynamics: c.Dynamics, Build: c.Build}
	job.AddDefaults()
	e := CaseFor(c, conditions, d)
	e.Arranged = true // a concept is evaluated with its lateral positions, default or not
	e.Require(job)
	return e
}

// CaseFor is a case for a concept's own fork, without objectives and limits yet. A shock that the file does not
// specify has a coil.
func CaseFor(c *files.ConceptFile, conditions *objectives.Conditions, d *objectives.Design) *Case {
	e := &Case{Conditions: conditions, Mechanism: d.Mechanism}
	if !d.Mechanism.HasShock() {
		return e
	}
	own := sections.JobShock{Name: "its own"}
	own.Spring = "coil"
	if c.Shock != nil {
		own.ShockProperties = c.Shock.ShockProperties
	}
	e.Shocks = []ShockSize{{own, d.Shock.Air}}
	return e
}
