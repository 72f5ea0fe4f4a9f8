package jobs

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"forkfront/objectives"
)

// compareForks prints what changed from one concept to another, measure by measure, in one table of
// before and after. Whether a change is for the better is said where a measure has a better way, and where
// a limit that holds by default is broken now, or kept again.
func compareForks(env *Env, before, after string) error {
	first, err := env.scoreOf(before)
	if err != nil {
		return err
	}
	second, err := env.scoreOf(after)
	if err != nil {
		return err
	}
	line := func(cells ...any) {
		fmt.Fprintln(env.Out, strings.TrimRight(fmt.Sprintf("%-33s %-7s %10s %10s %10s  %s", cells...), " "))
	}
	if first.Concept == second.Concept { // as where a candidate was changed by hand and kept its name
		first.Concept += " (" + fileShown(before) + ")"
		second.Concept += " (" + fileShown(after) + ")"
	}
	fmt.Fprintf(env.Out, "before: %s\nafter:  %s\n\n", first.Concept, second.Concept)
	line("measure", "unit", "before", "after", "change", "")
	for i := range objectives.Measures {
		m := &objectives.Measures[i]
		a, b := first.Measures[m.Name], second.Measures[m.Name]
		line(m.Name, m.Unit, shown(a), shown(b), change(a, b), commas(verdict(m, a, b), crossed(first, second, m.Name)))
	}
	_, err = fmt.Fprintf(env.Out, "\n%s\n", caution)
	return err
}

// commas puts a comma between what is not empty.
func commas(words ...string) string {
	return strings.Join(slices.DeleteFunc(words, func(w string) bool { return w == "" }), ", ")
}

// scoreOf scores a concept file, held to what is expected of any fork.
func (env *Env) scoreOf(name string) (*scored, error) {
	file, design, err := env.readFork(name)
	if err != nil {
		return nil, err
	}
	conditions := file.conditions()
	out, result := examine(file.Concept, conditions, design)
	out.hold(file.expected(conditions, design), result)
	return out, nil
}

// verdict says better, worse or nothing: a change below the measure's resolution is none.
func verdict(m *objectives.Measure, a, b *float64) string {
	if a == nil || b == nil || m.Sense == objectives.Neutral || math.Abs(*b-*a) < m.Resolution {
		return ""
	}
	if (*b < *a) == (m.Sense == objectives.Low) {
		return "better"
	}
	return "worse"
}
