package cli

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"forkfront/jobs/cases"
	"forkfront/jobs/files"
	"forkfront/jobs/words"
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

// tellUnlimited warns of cases whose parts may overlap because the job does not say how far they lie beside the
// wheel.
func tellUnlimited(j *files.JobFile, w io.Writer) {
	var free, of []string
	for _, c := range cases.Cases(j) {
		for i := range j.Constraints {
			l := &j.Constraints[i]
			measure := objectives.Index(l.Measure)
			if !l.Default || c.Arranged || !slices.Contains(objectives.Apart, measure) || objectives.Measures[measure].Never(c.Mechanism, nil) != "" {
				continue
			}
			free, of = append(free, l.Measure), append(of, c.Mechanism.Name)
		}
	}
	if free != nil {
		fmt.Fprintf(w, "no limit on %s of %s: the job does not say where their parts stand beside the wheel, so that candidates may collide with the wheel, the frame or themselves; give half widths, such as across: {half_width_mm: {BODY: 45}}, or a constraint of your own\n",
			strings.Join(unique(free), " and "), words.Commas(unique(of)...))
	}
}

// unique drops repeats.
func unique(all []string) []string {
	slices.Sort(all)
	return slices.Compact(all)
}

// tellExempt lists the defaults that do not hold for a case.
func tellExempt(j *files.JobFile, w io.Writer, c *cases.Case) {
	for i := range j.Constraints {
		l := &j.Constraints[i]
		if !l.Default {
			continue
		}
		said := slices.Contains(objectives.Apart, objectives.Index(l.Measure)) && !c.Arranged // once for all cases
		if why := c.Exempt(l); why != "" && !said {
			fmt.Fprintf(w, "  no limit on %s: %s\n", l.Measure, why)
		}
		if c.MayBeSpared(c.LimitOn(objectives.Index(l.Measure))) {
			fmt.Fprintf(w, "  no limit on %s of air springs: they are not sold by rate\n", l.Measure)
		}
	}
}
