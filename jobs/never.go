package jobs

import (
	"fmt"
	"slices"
	"strings"

	"forkfront/kinematics"
	"forkfront/objectives"
)

// choice is what the forks of some cases of a job have in common: a mechanism and the shocks to choose
// from.
type choice struct {
	of        string // in words
	mechanism *kinematics.Mechanism
	shocks    []objectives.Shock
}

// never tells why none of the forks has a measure, or is empty.
func (c *choice) never(measure int) string {
	return objectives.Measures[measure].Never(c.mechanism, c.shocks)
}

// choices are those of a job's mechanisms and concepts that could be read, with all shocks, or with each
// where they are swept.
func (j *JobFile) choices() []choice {
	var all []choice
	add := func(jm *JobMechanism, sizes []JobShock) {
		m, faults := kinematics.Compile(jm.Spec)
		if jm.Spec.Name == "" || len(faults) > 0 {
			return // noted already
		}
		of := fmt.Sprintf("mechanism %q", m.Name)
		if !m.HasShock() || !slices.Contains(j.Sweep, sweepShocks) {
			all = append(all, choice{of, m, units(sizes)})
			return
		}
		for i := range sizes {
			all = append(all, choice{fmt.Sprintf("%s with shock %q", of, sizes[i].Name), m, units(sizes[i : i+1])})
		}
	}
	for i := range j.Mechanisms {
		add(&j.Mechanisms[i], j.Shocks)
	}
	for i := range j.Start {
		sizes := j.Shocks
		if len(sizes) == 0 && j.Start[i].OwnShock.EyeToEyeMM > 0 {
			sizes = []JobShock{j.Start[i].OwnShock}
		}
		add(&j.Start[i].Around, sizes)
	}
	return all
}

// units are shocks in the model's terms.
func units(sizes []JobShock) (all []objectives.Shock) {
	for i := range sizes {
		unit := sizes[i].unit(1)
		all = append(all, objectives.Shock{EyeToEyeMM: unit.EyeToEyeMM, StrokeMM: unit.StrokeMM, Air: unit.air()})
	}
	return all
}

// checkNever notes a measure, asked for at a path, that some case can never have.
func checkNever(s *Source, path, name string, all []choice) {
	measure := objectives.Index(name)
	if measure < 0 {
		return // known to the caller alone
	}
	for i := range all {
		c := &all[i]
		why := c.never(measure)
		if why == "" {
			continue
		}
		var has []string
		for k := range objectives.Measures {
			if c.never(k) == "" {
				has = append(has, objectives.Measures[k].Name)
			}
		}
		s.At(path+".measure", "%q; no fork of %s has it: %s; allowed are %s", name, c.of, why, strings.Join(has, ", "))
		return
	}
}
