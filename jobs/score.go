package jobs

import (
	"cmp"
	"encoding/json"
	"fmt"
	"io"
	"slices"
	"strings"

	"forkfront/constraints"
	"forkfront/objectives"
	"forkfront/results"
)

// scored is the JSON of one scored fork. A measure that could not be had is null, with the reason
// under Reasons.
type scored struct {
	Concept    string                  `json:"concept"`
	Mechanism  string                  `json:"mechanism"`
	ReachedMM  float64                 `json:"reached_mm"`
	Measures   map[string]*float64     `json:"measures"`
	Reasons    map[string]string       `json:"reasons,omitempty"`
	Curves     map[string][]float64    `json:"curves"`
	Telescopic baseline                `json:"telescopic"`
	Parts      []objectives.Item       `json:"parts,omitempty"`
	Tolerances []objectives.Tolerance  `json:"tolerances,omitempty"`
	Clearances []objectives.Gap        `json:"clearances,omitempty"`
	LoadCases  []objectives.CaseForces `json:"load_cases,omitempty"`
	Objectives map[string]*float64     `json:"objectives,omitzero"`
	Violations map[string]*float64     `json:"violations,omitzero"` // constraint → amount in the measure's unit
	Driver     *driverRange            `json:"driver,omitempty"`    // how far the links let it turn
	Warnings   []string                `json:"warnings,omitempty"`
	Caution    string                  `json:"caution"`

	judgement []string // objectives and broken constraints in words
}

// baseline is the telescopic fork beside which a fork is scored.
type baseline struct {
	Measures map[string]*float64  `json:"measures"`
	Curves   map[string][]float64 `json:"curves"`
}

func byName(values []float64, missing []string) map[string]*float64 {
	all := make(map[string]*float64, len(values))
	for i := range objectives.Measures {
		var v *float64
		if missing[i] == "" {
			v = &values[i]
		}
		all[objectives.Measures[i].Name] = v
	}
	return all
}

// curvesOf reads all curves that a fork has; the others are absent.
func curvesOf(s *objectives.Subject[float64]) map[string][]float64 {
	all := make(map[string][]float64, len(objectives.Curves))
	for i := range objectives.Curves {
		c := &objectives.Curves[i]
		if values, reason := objectives.ReadCurve(nil, c, s); reason == "" {
			all[c.Name] = values
		}
	}
	return all
}

// examine scores one design for people to read.
func examine(concept string, c *objectives.Conditions, d *objectives.Design) (*scored, *objectives.Score) {
	sc := objectives.NewScorer(c)
	score := &objectives.Score{}
	sc.Score(score, d)
	sc.Complete(score, d)
	out := &scored{
		Concept: concept, Mechanism: d.Mechanism.Name, ReachedMM: score.ReachedMM,
		Measures: byName(score.Values, score.Missing), Reasons: map[string]string{}, Curves: curvesOf(sc.Subject()),
		Telescopic: baseline{byName(c.Baseline.Values, c.Baseline.Missing), curvesOf(c.Baseline.Subject)},
		Parts:      objectives.Account(sc.Subject()), LoadCases: objectives.Forces(sc.Subject()), Tolerances: sc.Tolerances(d),
		Caution: caution,
	}
	out.Driver = rangeOf(d.Mechanism, d.Layout, c.TravelMM)
	out.Clearances = sc.Gaps()
	slices.SortStableFunc(out.Clearances, func(a, b objectives.Gap) int { return cmp.Compare(a.GapMM, b.GapMM) })
	for _, l := range constraints.Buildable(c.Structure, score) {
		if l.Oversize(score) > 0 {
			out.Warnings = append(out.Warnings, l.Violation(score))
		}
	}
	for i, why := range score.Missing {
		if why != "" {
			out.Reasons[objectives.Measures[i].Name] = why
		}
	}
	return out, score
}

// caution stands wherever people read scores.
const caution = results.Caution

// judge adds how a fork does by a case's objectives and limits. An objective is in its measure's unit
// and sign, held to what is enough, or the distance outside a wanted band.
func (s *scored) judge(c *Case, score *objectives.Score) {
	s.Objectives, s.Violations = map[string]*float64{}, map[string]*float64{}
	for i := range c.Goals {
		s.reach(&c.Goals[i], score)
	}
	if why := c.fails(score); why != "" {
		s.breaks("works", nil, "works: "+why)
		s.Reasons["works"] = why
	}
	for _, l := range constraints.Buildable(c.Conditions.Structure, score) {
		if l.Oversize(score) > 0 {
			s.exceeds(&l, score)
		}
	}
	for i := range c.Limits {
		s.exceeds(&c.Limits[i], score)
	}
}

// fails tells why a fork does not work, or lacks what is wanted of it; empty when it does not fail.
func (c *Case) fails(score *objectives.Score) string {
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
func (s *scored) reach(g *objectives.Goal, score *objectives.Score) {
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
	s.judgement = append(s.judgement, fmt.Sprintf("objective %s: %s%s%s (wanted %s)", m.Name, shown(s.Objectives[m.Name]), unitOf(m), of, wish))
}

func unitOf(m *objectives.Measure) string {
	if m.Unit == "" {
		return ""
	}
	return " " + m.Unit
}

// exceeds adds a limit that is broken; one whose measure has no value has no amount.
func (s *scored) exceeds(l *constraints.Limit, score *objectives.Score) {
	m := &objectives.Measures[l.Measure]
	amount := l.Amount(score) * m.Scale
	switch {
	case score.Missing[l.Measure] != "":
		s.breaks(m.Name, nil, l.Violation(score))
	case amount > 0:
		s.breaks(m.Name, &amount, l.Violation(score))
	}
}

func (s *scored) breaks(name string, amount *float64, said string) {
	s.Violations[name] = amount
	s.judgement = append(s.judgement, "constraint broken, "+said)
}

func (s *scored) writeJSON(w io.Writer) error {
	e := json.NewEncoder(w)
	e.SetIndent("", "  ")
	return e.Encode(s)
}

// writeTable shows every measure beside that of the telescopic fork, and why one is empty.
func (s *scored) writeTable(w io.Writer) error {
	const row = "%-33s %-7s %10s %10s\n"
	fmt.Fprintf(w, "%s (%s)\n\n", s.Concept, s.Mechanism)
	fmt.Fprintf(w, row, "measure", "unit", "this fork", "telescopic")
	for i := range objectives.Measures {
		m := &objectives.Measures[i]
		fmt.Fprintf(w, row, m.Name, m.Unit, shown(s.Measures[m.Name]), shown(s.Telescopic.Measures[m.Name]))
	}
	s.writeReasons(w)
	if s.Driver != nil {
		s.Driver.write(w)
	}
	for _, warning := range s.Warnings {
		fmt.Fprintln(w, warning)
	}
	s.writeParts(w)
	s.writeForces(w)
	s.writeClearances(w)
	s.writeTolerances(w)
	if s.Objectives != nil {
		s.writeJudgement(w)
	}
	_, err := fmt.Fprintf(w, "\n%s\n", s.Caution)
	return err
}

// writeReasons tells why measures have no value, one line a cause.
func (s *scored) writeReasons(w io.Writer) {
	of := map[string][]string{} // cause → its measures
	var causes []string
	for i := range objectives.Measures {
		name := objectives.Measures[i].Name
		why := s.Reasons[name]
		if why != "" && of[why] == nil {
			causes = append(causes, why)
		}
		of[why] = append(of[why], name)
	}
	for _, why := range causes {
		if len(of[why]) == 1 {
			fmt.Fprintf(w, "%s: %s\n", of[why][0], why)
			continue
		}
		fmt.Fprintf(w, "%s; without a value: %s\n", why, strings.Join(of[why], ", "))
	}
}

// writeJudgement lists what a job's objectives come to and which constraints are broken.
func (s *scored) writeJudgement(w io.Writer) {
	fmt.Fprintln(w)
	for _, line := range s.judgement {
		fmt.Fprintln(w, line)
	}
	if len(s.Violations) == 0 {
		fmt.Fprintln(w, "every constraint is kept")
	}
}
