package jobs

import (
	"cmp"
	"encoding/json"
	"fmt"
	"io"
	"slices"

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
	Objectives map[string]*float64     `json:"objectives,omitempty"`
	Violations map[string]float64      `json:"violations,omitempty"`
	Caution    string                  `json:"caution"`
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
	out.Clearances = sc.Gaps()
	slices.SortStableFunc(out.Clearances, func(a, b objectives.Gap) int { return cmp.Compare(a.GapMM, b.GapMM) })
	for i, why := range score.Missing {
		if why != "" {
			out.Reasons[objectives.Measures[i].Name] = why
		}
	}
	return out, score
}

// caution stands wherever people read scores.
const caution = results.Caution

// judge adds how a fork does by a case's objectives and limits.
func (s *scored) judge(c *Case, score *objectives.Score) {
	s.Objectives, s.Violations = map[string]*float64{}, map[string]float64{}
	for i := range c.Goals {
		g := &c.Goals[i]
		name := objectives.Measures[g.Measure].Name
		s.Objectives[name] = nil
		if score.Missing[g.Measure] == "" {
			v := g.Value(score.Values[g.Measure])
			s.Objectives[name] = &v
		}
	}
	for i := range c.Limits {
		l := &c.Limits[i]
		if amount := l.Amount(score); amount > 0 {
			m := &objectives.Measures[l.Measure]
			s.Violations[m.Name] = amount * m.Scale
		}
	}
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
	for i := range objectives.Measures {
		if why := s.Reasons[objectives.Measures[i].Name]; why != "" {
			fmt.Fprintf(w, "%s: %s\n", objectives.Measures[i].Name, why)
		}
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

func shown(v *float64) string {
	if v == nil {
		return "–"
	}
	return fmt.Sprintf("%.4g", *v+0) // + 0 takes the sign off a zero
}

// writeJudgement lists what a job's objectives come to and which constraints are broken.
func (s *scored) writeJudgement(w io.Writer) {
	fmt.Fprintln(w)
	for i := range objectives.Measures {
		m := &objectives.Measures[i]
		if v, wanted := s.Objectives[m.Name]; wanted {
			fmt.Fprintf(w, "objective %s: %s (made small)\n", m.Name, shown(v))
		}
		if amount, broken := s.Violations[m.Name]; broken {
			fmt.Fprintf(w, "constraint %s: broken by %.4g %s\n", m.Name, amount, m.Unit)
		}
	}
}
