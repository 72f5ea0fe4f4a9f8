package cases

import (
	"slices"

	"forkfront/jobs/files"
	"forkfront/jobs/files/sections"
	"forkfront/objectives"
	"forkfront/objectives/fork"
	"forkfront/results/record"
)

// Exempt returns why a default limit does not apply to a case, empty where it does: none of its forks has the
// measure, its springs are not sold by rate, or the lateral positions of its parts are unknown.
func (c *Case) Exempt(l *files.JobConstraint) string {
	of := objectives.Index(l.Measure)
	m := objectives.At(of)
	if why := m.Unavailable(c.Mechanism, c.units(), c.Conditions.Given()); why != "" {
		return why
	}
	if slices.Contains(objectives.GapMeasures, of) && !c.Arranged {
		return "the job gives no lateral positions of its parts"
	}
	if m.Name == SpringRate && !slices.ContainsFunc(c.Shocks, func(k ShockSize) bool { return k.Air == nil }) {
		return "air springs are not sold by rate"
	}
	return ""
}

var SpringRate = objectives.Measures[objectives.SpringRate].Name

// Waived tells whether a limit of the case does not apply to a fork: coils are sold by rate, and where a case chooses
// among coils and air springs, the limit on the rate is only for coils.
func (c *Case) Waived(limit int, air bool) bool { return air && limit == c.coilLimit }

// MayBeWaived tells whether any fork of the case is.
func (c *Case) MayBeWaived(limit int) bool {
	return slices.ContainsFunc(c.Shocks, func(k ShockSize) bool { return c.Waived(limit, k.Air != nil) })
}

// units are the shocks that a case chooses from, in the model's terms.
func (c *Case) units() []fork.Shock {
	var sizes []sections.JobShock
	for _, k := range c.Shocks {
		sizes = append(sizes, k.JobShock)
	}
	return files.Units(sizes)
}

// Kept are the constraints of a case as its record states them.
func Kept(j *files.JobFile, c *Case) (all []record.Constraint) {
	for i := range j.Constraints {
		l := &j.Constraints[i]
		if l.After {
			all = append(all, record.Constraint{Measure: l.Measure, Min: l.Min, Max: l.Max, After: true})
		} else if limit := c.LimitOn(objectives.Index(l.Measure)); limit >= 0 {
			all = append(all, record.Constraint{Measure: l.Measure, Min: l.Min, Max: l.Max, Default: l.Default, Coils: c.MayBeWaived(limit)})
		}
	}
	return all
}
