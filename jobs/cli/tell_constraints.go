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

// tellConstraints lists the constraints, which of them are defaults, and how a default is switched off.
func tellConstraints(j *files.JobFile, w io.Writer) {
	for i := range j.Constraints {
		l := &j.Constraints[i]
		if l.Default {
			fmt.Fprintf(w, "constraint %s: %s, by default; {measure: %s, off: true} switches it off\n", l.Of().Label(), l.Words(), l.Measure)
		} else if l.After {
			fmt.Fprintf(w, "constraint %s: %s, applied to the front after the search\n", l.Of().Named(), l.Words())
		} else {
			fmt.Fprintf(w, "constraint %s: %s\n", l.Of().Named(), l.Words())
		}
	}
}

// tellUnlimited warns of mechanisms whose parts may overlap because the job does not say how far they lie beside the
// wheel, unless it has limits of its own.
func tellUnlimited(j *files.JobFile, w io.Writer) {
	var limits, of []string
	for i := range j.Constraints {
		if l := &j.Constraints[i]; l.Default && slices.Contains(objectives.GapMeasures, objectives.Index(l.Measure)) {
			limits = append(limits, l.Of().Label())
		}
	}
	for _, c := range j.Choices() {
		if name := c.MayOverlap(); name != "" && !slices.Contains(of, name) {
			of = append(of, name)
		}
	}
	if limits != nil && of != nil {
		fmt.Fprintf(w, "no limit on %s of %s: the job gives no lateral positions of their parts, so that candidates may collide with the wheel, the frame or themselves; give half widths, such as across: {half_width_mm: {BODY: 45}}, or a constraint of your own\n",
			strings.Join(limits, " and "), words.Commas(of...))
	}
}

// tellExempt lists the default limits that do not apply to a case.
func tellExempt(j *files.JobFile, w io.Writer, c *cases.Case) {
	for i := range j.Constraints {
		l := &j.Constraints[i]
		if !l.Default {
			continue
		}
		said := slices.Contains(objectives.GapMeasures, objectives.Index(l.Measure)) && !c.Arranged // once for all cases
		if why := c.Exempt(l); why != "" && !said {
			fmt.Fprintf(w, "  no limit on %s: %s\n", l.Of().Label(), why)
		}
		if c.MayBeWaived(c.LimitOn(objectives.Index(l.Measure))) {
			fmt.Fprintf(w, "  no limit on %s of air springs: they are not sold by rate\n", l.Of().Label())
		}
	}
}
