package jobs

import (
	"fmt"
	"io"
	"math"
	"slices"

	"forkfront/constraints"
	"forkfront/objectives"
	"forkfront/results/record"
)

// addDefaults has the limits that practice expects hold for every measure that the job's constraints do
// not speak of. They become a part of the job, so that a run that is resumed keeps to what it began with.
func (j *JobFile) addDefaults() {
	for _, l := range j.defaults() {
		name := objectives.Measures[l.Measure].Name
		if !slices.ContainsFunc(j.Constraints, func(c JobConstraint) bool { return c.Measure == name }) {
			j.Constraints = append(j.Constraints, JobConstraint{Measure: name, Min: finite(l.Min), Max: finite(l.Max), Default: true})
		}
	}
}

// defaults are the limits that the job has unless it says otherwise.
func (j *JobFile) defaults() []constraints.Limit {
	coils := j.CoilRatesNPerMM
	if slices.Equal(coils, CoilsOnSale()) {
		coils = nil
	}
	return constraints.Defaults(coils, j.Structure.ForeAftNPerMM)
}

// defaultNames are the measures that such limits speak of.
func (j *JobFile) defaultNames() (names []string) {
	for _, l := range j.defaults() {
		names = append(names, objectives.Measures[l.Measure].Name)
	}
	return names
}

// finite is an end of a range; nil where it does not bind.
func finite(x float64) *float64 {
	if math.IsInf(x, 0) {
		return nil
	}
	return &x
}

// exempt tells why a default does not hold for a case, or is empty: none of its forks has the measure,
// or its spring is none that is sold by its rate.
func (c *Case) exempt(l *JobConstraint) string {
	m := &objectives.Measures[objectives.Index(l.Measure)]
	if why := m.Never(c.Mechanism, c.units()); why != "" {
		return why
	}
	if m.Name == springRate && !slices.ContainsFunc(c.Shocks, func(k ShockSize) bool { return k.air == nil }) {
		return "an air spring is not sold by its rate"
	}
	return ""
}

const springRate = "spring_rate_n_per_mm"

// spared tells whether a limit of the case is not asked of a fork: coils are sold by their rate, and where the
// case chooses among both kinds of springs an air spring has none to keep.
func (c *Case) spared(limit int, air bool) bool { return air && limit == c.coilLimit }

// mayBeSpared tells whether any fork of the case is.
func (c *Case) mayBeSpared(limit int) bool {
	return slices.ContainsFunc(c.Shocks, func(k ShockSize) bool { return c.spared(limit, k.air != nil) })
}

// units are the shocks that a case chooses from, in the model's terms.
func (c *Case) units() []objectives.Shock {
	var sizes []JobShock
	for _, k := range c.Shocks {
		sizes = append(sizes, k.JobShock)
	}
	return units(sizes)
}

// kept are the constraints of a case as its record states them.
func (j *JobFile) kept(c *Case) (all []record.Constraint) {
	for i := range j.Constraints {
		l := &j.Constraints[i]
		if limit := c.limitOn(objectives.Index(l.Measure)); limit >= 0 {
			all = append(all, record.Constraint{Measure: l.Measure, Min: l.Min, Max: l.Max, Default: l.Default, Coils: c.mayBeSpared(limit)})
		}
	}
	return all
}

// words say what a constraint asks, with its unit.
func (l *JobConstraint) words() string {
	unit := unitOf(&objectives.Measures[objectives.Index(l.Measure)])
	switch {
	case l.Off:
		return "switched off"
	case l.Min == nil:
		return fmt.Sprintf("at most %.4g%s", *l.Max, unit)
	case l.Max == nil:
		return fmt.Sprintf("at least %.4g%s", *l.Min, unit)
	}
	return fmt.Sprintf("%.4g to %.4g%s", *l.Min, *l.Max, unit)
}

// tellConstraints lists what must hold, what of it by default, and how a default is switched off.
func (j *JobFile) tellConstraints(w io.Writer) {
	for i := range j.Constraints {
		l := &j.Constraints[i]
		fmt.Fprintf(w, "constraint %s: %s", l.Measure, l.words())
		if l.Default {
			fmt.Fprintf(w, ", by default; {measure: %s, off: true} switches it off", l.Measure)
		}
		fmt.Fprintln(w)
	}
}

// tellUnlimited warns of a search that keeps nothing apart. Clearance has no limit by default: a job need not
// say how far its parts lie beside the wheel, and where it does not they are taken to be in its way.
func (j *JobFile) tellUnlimited(w io.Writer) {
	const clearance = "clearance_mm"
	limited := slices.ContainsFunc(j.Constraints, func(l JobConstraint) bool { return l.Measure == clearance })
	if !limited && slices.ContainsFunc(j.choices(), func(c choice) bool { return c.never(objectives.Index(clearance)) == "" }) {
		fmt.Fprintf(w, "%s has no limit: what is found may run into wheel, frame or itself; a constraint {measure: %s, min: 6} keeps 6 mm\n", clearance, clearance)
	}
}

// tellExempt lists the defaults that do not hold for a case.
func (j *JobFile) tellExempt(w io.Writer, c *Case) {
	for i := range j.Constraints {
		l := &j.Constraints[i]
		if !l.Default {
			continue
		}
		if why := c.exempt(l); why != "" {
			fmt.Fprintf(w, "  no limit on %s: %s\n", l.Measure, why)
		}
		if c.mayBeSpared(c.limitOn(objectives.Index(l.Measure))) {
			fmt.Fprintf(w, "  no limit on %s of air springs: they are not sold by their rate\n", l.Measure)
		}
	}
}
