package score

import (
	"cmp"
	"encoding/json"
	"fmt"
	"io"
	"slices"
	"strings"

	"forkfront/constraints"
	"forkfront/jobs/words"
	"forkfront/objectives"
	"forkfront/objectives/clearance"
	"forkfront/objectives/ride"
	"forkfront/objectives/simulation"
	"forkfront/objectives/structure"
	"forkfront/objectives/structure/spaceframe"
	"forkfront/results/display"
)

// Scored is the JSON of one scored fork. A measure without a value is null, with the reason under Reasons.
type Scored struct {
	Concept    string                 `json:"concept"`
	Mechanism  string                 `json:"mechanism"`
	ReachedMM  float64                `json:"reached_mm"`
	Measures   map[string]*float64    `json:"measures"`
	Reasons    map[string]string      `json:"reasons,omitempty"`
	Curves     map[string][]float64   `json:"curves"`
	Telescopic baseline               `json:"telescopic"`
	Parts      []structure.Item       `json:"parts,omitempty"`
	Tolerances []objectives.Tolerance `json:"tolerances,omitempty"`
	Clearances []clearance.Gap        `json:"clearances,omitempty"`
	LoadCases  []structure.CaseForces `json:"load_cases,omitempty"`
	Proof      *spaceframe.Proof      `json:"proof,omitempty"`
	Objectives map[string]*float64    `json:"objectives,omitzero"`
	Violations map[string]*float64    `json:"violations,omitzero"` // limit → amount in the measure's unit; a job's, or those by default
	Events     events                 `json:"events,omitempty"`    // by event and quantity, of a file with a ride section
	Driver     *driverRange           `json:"driver,omitempty"`    // how far the links let it turn
	Warnings   []string               `json:"warnings,omitempty"`
	Caution    string                 `json:"caution"`

	goals    []string          // objectives in words
	violated []violatedLimit   // in the order of the constraints
	limits   map[string]string // measure → its limit in words, violated or not

	simulation, simulatedTelescopic *simulation.Results // nil: not simulated
	damper                          string              // what it is set to in events; empty: what the fork needs
}

// baseline is the telescopic fork with which a fork is compared.
type baseline struct {
	Measures map[string]*float64  `json:"measures"`
	Curves   map[string][]float64 `json:"curves"`
	Events   events               `json:"events,omitempty"`
	Sized    map[string]float64   `json:"sized,omitempty"`   // measures by the rules for all forks; mass beside the given one
	Unsized  string               `json:"unsized,omitempty"` // why there are none
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
func curvesOf(s *ride.Ride[float64]) map[string][]float64 {
	all := make(map[string][]float64, len(objectives.Curves))
	for i := range objectives.Curves {
		c := &objectives.Curves[i]
		if values, reason := objectives.ReadCurve(nil, c, s); reason == "" {
			all[c.Name] = values
		}
	}
	return all
}

// Examine scores one design for people to read.
func Examine(concept string, c *objectives.Conditions, d *objectives.Design) (*Scored, *objectives.Score) {
	sc := objectives.NewScorer(c)
	score := &objectives.Score{}
	study := sc.Score(score, d)
	study.Complete(score)
	out := &Scored{
		Concept: concept, Mechanism: d.Mechanism.Name, ReachedMM: score.ReachedMM,
		Measures: byName(score.Values, score.Missing), Reasons: map[string]string{}, Curves: curvesOf(study.Ride()),
		Telescopic: baseline{Measures: byName(c.Baseline.Values, c.Baseline.Missing), Curves: curvesOf(c.Baseline.Ride)},
		Parts:      study.BillOfMaterials(), LoadCases: study.Forces(), Tolerances: study.Tolerances(),
		Caution: display.Caution, Proof: study.Proof(score),
	}
	out.Telescopic.size(c, d)
	out.simulated(c, study, score)
	out.Driver = RangeOf(d.Mechanism, d.Layout, c.TravelMM)
	out.Clearances = study.Gaps()
	slices.SortStableFunc(out.Clearances, func(a, b clearance.Gap) int { return cmp.Compare(a.GapMM, b.GapMM) })
	for _, l := range constraints.Buildable(c.Structure, score) {
		if l.Oversize(score) > 0 {
			out.Warnings = append(out.Warnings, l.Violation(score))
		}
	}
	for i := range objectives.Measures {
		if why := score.Missing[i]; why != "" {
			out.Reasons[objectives.Measures[i].Name] = why
		}
	}
	return out, score
}

// WriteJSON writes everything known of the fork as indented JSON. The error is that of the writer.
func (s *Scored) WriteJSON(w io.Writer) error {
	e := json.NewEncoder(w)
	e.SetIndent("", "  ")
	return e.Encode(s)
}

// WriteTable shows every measure beside that of the telescopic fork, and why any is missing. Those that need a ride section
// have no row without one.
func (s *Scored) WriteTable(w io.Writer) error {
	const row = "%-33s %-7s %10s %10s\n"
	fmt.Fprintf(w, "%s (%s)\n\n", s.Concept, s.Mechanism)
	fmt.Fprintf(w, row, "measure", "unit", "this fork", "telescopic")
	for i := range objectives.Measures {
		m := &objectives.Measures[i]
		if s.Reasons[m.Name] == objectives.NoRide {
			continue
		}
		fmt.Fprintf(w, row, m.Name, m.Unit, words.Shown(s.Measures[m.Name]), words.Shown(s.Telescopic.Measures[m.Name]))
	}
	s.Telescopic.writeSized(w)
	s.writeReasons(w)
	s.writeEvents(w)
	if s.Driver != nil {
		s.Driver.write(w)
	}
	for _, warning := range s.Warnings {
		fmt.Fprintln(w, warning)
	}
	s.writeParts(w)
	s.writeForces(w)
	s.writeProof(w)
	s.writeClearances(w)
	s.writeTolerances(w)
	switch {
	case s.Objectives != nil:
		s.writeJudgement(w)
	case s.Violations != nil:
		s.writeExpected(w)
	}
	_, err := fmt.Fprintf(w, "\n%s\n", s.Caution)
	return err
}

// writeReasons tells why measures have no value, one line per cause.
func (s *Scored) writeReasons(w io.Writer) {
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
		if why == objectives.NoRide {
			fmt.Fprintf(w, "%s: nothing is said of damper, tyre and road\n", why)
			continue
		}
		if len(of[why]) == 1 {
			fmt.Fprintf(w, "%s: %s\n", of[why][0], why)
			continue
		}
		fmt.Fprintf(w, "%s; without a value: %s\n", why, strings.Join(of[why], ", "))
	}
}
