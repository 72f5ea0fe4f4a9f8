package cases

import (
	"forkfront/jobs/files"
	"forkfront/objectives"
)

// Expected is a case that asks of a concept's fork what any job asks that says nothing else: the limits that
// hold by default, by the coils and stiffness of the concept's own file.
func Expected(c *files.ConceptFile, conditions *objectives.Conditions, d *objectives.Design) *Case {
	job := &files.JobFile{Aims: c.Aims, Build: c.Build}
	job.AddDefaults()
	e := CaseFor(c, conditions, d)
	e.Arranged = true // a concept is drawn as its file has it, by default or not
	e.Wants(job)
	return e
}

// CaseFor is a case of nothing but a concept's own fork, which asks nothing of it yet. A shock that the file
// does not speak of has a coil.
func CaseFor(c *files.ConceptFile, conditions *objectives.Conditions, d *objectives.Design) *Case {
	e := &Case{Conditions: conditions, Mechanism: d.Mechanism}
	if !d.Mechanism.HasShock() {
		return e
	}
	own := files.JobShock{Name: "its own"}
	own.Spring = "coil"
	if c.Shock != nil {
		own.ShockProperties = c.Shock.ShockProperties
	}
	e.Shocks = []ShockSize{{own, d.Shock.Air}}
	return e
}
