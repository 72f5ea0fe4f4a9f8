package score

import (
	"fmt"
	"io"

	"forkfront/constraints"
	"forkfront/jobs/cases"
	"forkfront/jobs/files"
	"forkfront/jobs/words"
	"forkfront/objectives"
)

// Judge adds how a fork does by a case's objectives and limits. An objective is in its measure's unit
// and sign, held to what is enough, or the distance outside a wanted band.
func (s *Scored) Judge(c *cases.Case, score *objectives.Score) {
	s.Objectives = map[string]*float64{}
	for i := range c.Goals {
		s.reach(&c.Goals[i], score)
	}
	s.Hold(c, score)
}

// Hold adds which limits a fork is held to: that it works, what can be built and bought, those of the case.
func (s *Scored) Hold(c *cases.Case, score *objectives.Score) {
	s.Violations, s.held = map[string]*float64{}, map[string]string{}
	if why := fails(c, score); why != "" {
		s.breaks("works", nil, "works: "+why)
		s.Reasons["works"] = why
	}
	for _, l := range constraints.Buildable(c.Conditions.Structure, score) {
		s.states(&l)
		if l.Oversize(score) > 0 {
			s.exceeds(&l, score)
		}
	}
	for i := range c.Limits {
		s.states(&c.Limits[i])
		s.exceeds(&c.Limits[i], score)
	}
}

// fails tells why a fork does not work, or lacks what is wanted of it; empty when it does not fail.
func fails(c *cases.Case, score *objectives.Score) string {
	if score.Fault != "" {
		return score.Fault
	}
	for i := range c.Goals {
		if why := score.Missing[c.Goals[i].Measure]; why != "" {
			return why
		}
	}
	return ""
}

// reach adds what an objective comes to.
func (s *Scored) reach(g *objectives.Goal, score *objectives.Score) {
	m := &objectives.Measures[g.Measure]
	wish := [...]string{"small", "large", fmt.Sprintf("from %g to %g", g.Band.Low, g.Band.High)}[g.Aim]
	s.Objectives[m.Name] = nil
	if score.Missing[g.Measure] == "" {
		v := g.Value(score.Values[g.Measure])
		if g.Aim == objectives.Largest {
			v = -v
		}
		s.Objectives[m.Name] = &v
	}
	of := ""
	if g.Aim == objectives.Within {
		of = " outside"
	}
	s.goals = append(s.goals, fmt.Sprintf("objective %s: %s%s%s (target %s)", m.Name, words.Shown(s.Objectives[m.Name]), files.UnitOf(m), of, wish))
}

// states adds what a limit asks, where it asks anything.
func (s *Scored) states(l *constraints.Limit) {
	asks := files.JobConstraint{Measure: objectives.Measures[l.Measure].Name, Min: files.Finite(l.Min), Max: files.Finite(l.Max)}
	if asks.Min != nil || asks.Max != nil {
		s.held[asks.Measure] = asks.Words()
	}
}

// exceeds adds a limit that is broken; one whose measure has no value has no amount.
func (s *Scored) exceeds(l *constraints.Limit, score *objectives.Score) {
	m := &objectives.Measures[l.Measure]
	amount := l.Amount(score) * m.Scale
	switch {
	case score.Missing[l.Measure] != "":
		s.breaks(m.Name, nil, l.Violation(score))
	case amount > 0:
		s.breaks(m.Name, &amount, l.Violation(score))
	}
}

func (s *Scored) breaks(name string, amount *float64, said string) {
	s.Violations[name] = amount
	s.broken = append(s.broken, brokenLimit{name, said, amount == nil})
}

// brokenLimit is a limit that is not kept, in words; unknown tells that its measure has no value.
type brokenLimit struct {
	name, said string
	unknown    bool
}

// writeJudgement lists what a job's objectives come to and which constraints are broken.
func (s *Scored) writeJudgement(w io.Writer) {
	fmt.Fprintln(w)
	for _, line := range s.goals {
		fmt.Fprintln(w, line)
	}
	for _, b := range s.broken {
		fmt.Fprintln(w, "violated constraint, "+b.said)
	}
	if len(s.Violations) == 0 {
		fmt.Fprintln(w, "all constraints are met")
	}
}
