package cli

import (
	"fmt"
	"io"
	"slices"

	"forkfront/jobs/cases"
	"forkfront/jobs/files"
	"forkfront/objectives"
)

// tellConstraints lists what must hold, what of it by default, and how a default is switched off.
func tellConstraints(j *files.JobFile, w io.Writer) {
	for i := range j.Constraints {
		l := &j.Constraints[i]
		fmt.Fprintf(w, "constraint %s: %s", l.Measure, l.Words())
		if l.Default {
			fmt.Fprintf(w, ", by default; {measure: %s, off: true} switches it off", l.Measure)
		}
		fmt.Fprintln(w)
	}
}

// tellUnlimited warns of a search that keeps nothing apart. Clearance has no limit by default: a job need not
// say how far its parts lie beside the wheel, and where it does not they are taken to be in its way.
func tellUnlimited(j *files.JobFile, w io.Writer) {
	clearance := objectives.Measures[objectives.Clearance].Name
	limited := slices.ContainsFunc(j.Constraints, func(l files.JobConstraint) bool { return l.Measure == clearance })
	if !limited && slices.ContainsFunc(j.Choices(), func(c files.Choice) bool { return c.Never(objectives.Clearance) == "" }) {
		fmt.Fprintf(w, "%s has no limit: candidates may collide with the wheel, the frame or themselves; the constraint {measure: %s, min: 6} keeps 6 mm clear\n", clearance, clearance)
	}
}

// tellExempt lists the defaults that do not hold for a case.
func tellExempt(j *files.JobFile, w io.Writer, c *cases.Case) {
	for i := range j.Constraints {
		l := &j.Constraints[i]
		if !l.Default {
			continue
		}
		if why := c.Exempt(l); why != "" {
			fmt.Fprintf(w, "  no limit on %s: %s\n", l.Measure, why)
		}
		if c.MayBeSpared(c.LimitOn(objectives.Index(l.Measure))) {
			fmt.Fprintf(w, "  no limit on %s of air springs: they are not sold by rate\n", l.Measure)
		}
	}
}
