package score

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"forkfront/objectives"
)

// writeExpected ends a score with the default limits that the fork violates.
func (s *Scored) writeExpected(w io.Writer) {
	fmt.Fprintln(w)
	var unknown []string
	for _, b := range s.violated {
		switch {
		case b.name == "works":
			fmt.Fprintln(w, "the fork does not work: "+s.Reasons[b.name])
		case b.unknown:
			unknown = append(unknown, b.name)
		case !slices.Contains(objectives.GapMeasures, objectives.Index(b.name)):
			fmt.Fprintln(w, "violated limit, "+b.said)
		}
	}
	s.writeOverlaps(w)
	switch {
	case len(unknown) > 0:
		fmt.Fprintln(w, "without a value, so its limit is not met: "+strings.Join(unknown, ", "))
	case len(s.violated) == 0 && len(s.Clearances) > 0:
		fmt.Fprintln(w, "all default limits are met, and no parts overlap")
	case len(s.violated) == 0:
		fmt.Fprintln(w, "all default limits are met")
	}
	if len(s.violated) > 0 {
		fmt.Fprintln(w, "(default limits: jobs/docs/constraints.md)")
	}
}

// writeOverlaps names the two parts that overlap most, and how many pairs overlap.
func (s *Scored) writeOverlaps(w io.Writer) {
	pairs := 0
	for pairs < len(s.Clearances) && s.Clearances[pairs].GapMM < 0 {
		pairs++
	}
	if pairs == 0 {
		return
	}
	g := &s.Clearances[0]
	more := ""
	if pairs > 1 {
		more = fmt.Sprintf("; %d pairs overlap", pairs)
	}
	fmt.Fprintf(w, "parts overlap, %s by %.1f mm at %.1f mm of travel and %.0f degrees of steering%s\n", g.Pair, -g.GapMM, g.TravelMM, g.SteerDeg, more)
}

// limitState tells whether a measure meets its limit.
type limitState int

const (
	noLimit limitState = iota // or no value
	meetsLimit
	violatesLimit
)

func (s *Scored) limitState(measure string) limitState {
	amount, broken := s.Violations[measure]
	switch {
	case broken && amount != nil:
		return violatesLimit
	case broken, s.limits[measure] == "", s.Measures[measure] == nil:
		return noLimit
	}
	return meetsLimit
}

// limitChange says whether a measure's limit is newly violated, still violated, or newly met; otherwise it is empty.
func limitChange(before, after *Scored, measure string) string {
	was, is := before.limitState(measure), after.limitState(measure)
	switch {
	case is == violatesLimit && was == violatesLimit:
		return "still violates its limit, " + after.limits[measure]
	case is == violatesLimit:
		return "now violates its limit, " + after.limits[measure]
	case was == violatesLimit && is == meetsLimit:
		return "now meets its limit, " + after.limits[measure]
	}
	return ""
}
