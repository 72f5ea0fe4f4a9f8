package score

import (
	"fmt"
	"io"

	"forkfront/constraints"
	"forkfront/jobs/cases"
	"forkfront/jobs/files"
	"forkfront/jobs/words"
	"forkfront/objectives"
	"forkfront/objectives/simulation"
)

// Judge adds a fork's values of a case's objectives and limits. An objective is in its measure's unit and sign,
// capped at what is enough, or the distance outside a wanted band.
func (s *Scored) Judge(c *cases.Case, score *objectives.Score) {
	s.Objectives = map[string]*float64{}
	for i := range c.Goals {
		s.addObjective(&c.Goals[i], score)
	}
	s.AddLimits(c, score)
}

// AddLimits adds the limits of a fork: that it works, what can be built and bought, those of the case.
func (s *Scored) AddLimits(c *cases.Case, score *objectives.Score) {
	s.Violations, s.limits = map[string]*float64{}, map[string]string{}
	if why := fails(c, score); why != "" {
		s.addViolation("works", nil, "works: "+why)
		s.Reasons["works"] = why
	}
	for _, l := range constraints.Buildable(c.Conditions.Structure, score) {
		s.describeLimit(&l)
		if l.Oversize(score) > 0 {
			s.checkLimit(&l, score)
		}
	}
	for i := range c.Limits {
		s.describeLimit(&c.Limits[i])
		s.checkLimit(&c.Limits[i], score)
	}
	for i := range c.After {
		s.checkAfter(&c.After[i])
	}
}

// checkAfter adds a limit on an event that is violated; without a ride section nothing is simulated.
func (s *Scored) checkAfter(l *files.JobConstraint) {
	r, _ := simulation.ReadingNamed(l.Measure)
	s.limits[l.Measure] = l.Words()
	v, why := 0.0, objectives.NoRide
	if s.simulation != nil {
		v, why = r.Of(s.simulation)
	}
	var beyond float64
	switch {
	case why != "":
		s.addViolation(l.Measure, nil, l.Of().Named()+": no value: "+why)
		return
	case l.Min != nil && v < *l.Min:
		beyond = *l.Min - v
	case l.Max != nil && v > *l.Max:
		beyond = v - *l.Max
	default:
		return
	}
	s.addViolation(l.Measure, &beyond, fmt.Sprintf("%s: %s%s; allowed is %s", l.Of().Named(), words.Shown(&v), files.UnitOf(l.Of()), l.Words()))
}

// fails tells why a fork does not work or an objective has no value; empty when it does not fail.
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

// addObjective adds the value of an objective.
func (s *Scored) addObjective(g *objectives.Goal, score *objectives.Score) {
	m := objectives.At(g.Measure)
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

// describeLimit adds a limit in words, where it limits anything.
func (s *Scored) describeLimit(l *constraints.Limit) {
	asks := files.JobConstraint{Measure: objectives.At(l.Measure).Name, Min: files.Finite(l.Min), Max: files.Finite(l.Max)}
	if asks.Min != nil || asks.Max != nil {
		s.limits[asks.Measure] = asks.Words()
	}
}

// checkLimit adds a limit that is violated; one whose measure has no value has no amount.
func (s *Scored) checkLimit(l *constraints.Limit, score *objectives.Score) {
	m := objectives.At(l.Measure)
	amount := l.Amount(score) * m.Scale
	switch {
	case score.Missing[l.Measure] != "":
		s.addViolation(m.Name, nil, l.Violation(score))
	case amount > 0:
		s.addViolation(m.Name, &amount, l.Violation(score))
	}
}

func (s *Scored) addViolation(name string, amount *float64, said string) {
	s.Violations[name] = amount
	s.violated = append(s.violated, violatedLimit{name, said, amount == nil})
}

// violatedLimit is a limit that is not met, in words; unknown tells that its measure has no value.
type violatedLimit struct {
	name, said string
	unknown    bool
}

// writeJudgement lists the values of a job's objectives and the violated constraints.
func (s *Scored) writeJudgement(w io.Writer) {
	fmt.Fprintln(w)
	for _, line := range s.goals {
		fmt.Fprintln(w, line)
	}
	for _, b := range s.violated {
		fmt.Fprintln(w, "violated constraint, "+b.said)
	}
	if len(s.Violations) == 0 {
		fmt.Fprintln(w, "all constraints are met")
	}
}
