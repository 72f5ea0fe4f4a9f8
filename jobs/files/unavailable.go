package files

import (
	"fmt"
	"slices"
	"strings"

	"forkfront/jobs/files/document"
	"forkfront/jobs/files/sections"
	"forkfront/kinematics/mechanism"
	"forkfront/objectives"
	"forkfront/objectives/fork"
)

// Choice is what the forks of some cases of a job have in common: a mechanism and the shocks to choose
// from.
type Choice struct {
	of        string // in words
	mechanism *mechanism.Mechanism
	arranged  bool // the job gives lateral positions of its parts
	shocks    []fork.Shock
	given     objectives.Given // by the job
}

// MayOverlap is the name of the mechanism whose forks may have overlapping parts, since the job does not give their
// lateral positions; empty where it does, or where forks have no clearance.
func (c *Choice) MayOverlap() string {
	if c.arranged || c.unavailable(objectives.Clearance) != "" {
		return ""
	}
	return c.mechanism.Name
}

// unavailable is why none of the forks has a measure, or empty.
func (c *Choice) unavailable(measure int) string {
	return objectives.At(measure).Unavailable(c.mechanism, c.shocks, c.given)
}

// Choices are those of a job's mechanisms and concepts that could be read, with all shocks, or with each
// where they are swept.
func (j *JobFile) Choices() []Choice {
	var all []Choice
	add := func(jm *JobMechanism, sizes []sections.JobShock) {
		m, faults := mechanism.Compile(jm.Spec)
		if jm.Spec.Name == "" || len(faults) > 0 {
			return // noted already
		}
		given := j.Given(&j.Aims, &j.Build)
		of, arranged := fmt.Sprintf("mechanism %q", m.Name), jm.Across.Given()
		if !m.HasShock() || !slices.Contains(j.Sweep, sweepShocks) {
			all = append(all, Choice{of, m, arranged, Units(sizes), given})
			return
		}
		for i := range sizes {
			all = append(all, Choice{fmt.Sprintf("%s with shock %q", of, sizes[i].Name), m, arranged, Units(sizes[i : i+1]), given})
		}
	}
	for i := range j.Mechanisms {
		add(&j.Mechanisms[i], j.Shocks)
	}
	for i := range j.Start {
		sizes := j.Shocks
		if len(sizes) == 0 && j.Start[i].OwnShock.EyeToEyeMM > 0 {
			sizes = []sections.JobShock{j.Start[i].OwnShock}
		}
		add(&j.Start[i].Around, sizes)
	}
	return all
}

// Units are shocks in the model's terms.
func Units(sizes []sections.JobShock) (all []fork.Shock) {
	for i := range sizes {
		unit := sizes[i].Unit(1)
		all = append(all, fork.Shock{EyeToEyeMM: unit.EyeToEyeMM, StrokeMM: unit.StrokeMM, Air: unit.Air()})
	}
	return all
}

// checkNever notes a measure at a path that some case can never have.
func checkNever(s *document.Source, path, name string, all []Choice) {
	measure := objectives.Index(name)
	if measure < 0 {
		return // only the caller knows it
	}
	for i := range all {
		c := &all[i]
		why := c.unavailable(measure)
		if why == "" {
			continue
		}
		var has []string
		for k := range objectives.Measures {
			if c.unavailable(k) == "" {
				has = append(has, objectives.Measures[k].Name)
			}
		}
		s.At(path+".measure", "%q; not available for %s: %s; allowed are %s", name, c.of, why, strings.Join(has, ", "))
		return
	}
}
