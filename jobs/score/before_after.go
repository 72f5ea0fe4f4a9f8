package score

import (
	"fmt"
	"math"
	"strings"

	"forkfront/jobs/cases"
	"forkfront/jobs/process"
	"forkfront/jobs/words"
	"forkfront/objectives"
	"forkfront/results/display"
)

// Compare prints what changed from one concept to another, measure by measure, in one table of before and after. It
// says whether a change is for the better, where a measure has a better direction, and where a default limit is newly
// violated or met again.
func Compare(env *process.Env, before, after string) error {
	first, err := ScoreOf(env, before)
	if err != nil {
		return err
	}
	second, err := ScoreOf(env, after)
	if err != nil {
		return err
	}
	line := func(cells ...any) {
		fmt.Fprintln(env.Out, strings.TrimRight(fmt.Sprintf("%-33s %-7s %10s %10s %10s  %s", cells...), " "))
	}
	if first.Concept == second.Concept { // such as a candidate that was edited by hand and kept its name
		first.Concept += " (" + process.FileShown(before) + ")"
		second.Concept += " (" + process.FileShown(after) + ")"
	}
	fmt.Fprintf(env.Out, "before: %s\nafter:  %s\n\n", first.Concept, second.Concept)
	line("measure", "unit", "before", "after", "change", "")
	for i := range objectives.Measures {
		m := &objectives.Measures[i]
		if first.Reasons[m.Name] == objectives.NoRide && second.Reasons[m.Name] == objectives.NoRide {
			continue
		}
		a, b := first.Measures[m.Name], second.Measures[m.Name]
		line(m.Name, m.Unit, words.Shown(a), words.Shown(b), Change(a, b), words.Commas(verdict(m, a, b), limitChange(first, second, m.Name)))
	}
	_, err = fmt.Fprintf(env.Out, "\n%s\n", display.Caution)
	return err
}

// ScoreOf scores a concept file, with the default limits.
func ScoreOf(env *process.Env, name string) (*Scored, error) {
	file, design, err := cases.ReadFork(env, name)
	if err != nil {
		return nil, err
	}
	conditions := cases.Conditions(file)
	out, result := Examine(file.Concept, conditions, design)
	out.AddLimits(cases.Expected(file, conditions, design), result)
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
