package cases

import (
	"fmt"
	"strings"

	"forkfront/constraints"
	"forkfront/objectives"
	"forkfront/objectives/clearance"
	"forkfront/objectives/simulation"
)

// hubPair begins the names of pairs that hub_clearance_mm is about; clearance_mm is about all others.
const hubPair = "hub / "

// Violated says what keeps a fork from being feasible, one sentence per constraint: where its motion ends, or how far
// it is outside each limit, with the parts that are too close. gaps are those of all pairs of its parts.
func (c *Case) Violated(s *objectives.Score, air bool, gaps []clearance.Gap) []string {
	if s.Fault != "" {
		return []string{fmt.Sprintf("stops at %.4g of %.4g mm of travel: %s", s.ReachedMM, c.Conditions.TravelMM, s.Fault)}
	}
	var all []string
	add := func(why string) {
		if why != "" {
			all = append(all, why)
		}
	}
	for _, l := range constraints.Buildable(c.Conditions.Structure, s) {
		if l.Oversize(s) > 0 {
			add(l.Violation(s))
		}
	}
	lacking, reasons := map[string][]string{}, []string(nil)
	missing := func(name, reason string) {
		if lacking[reason] == nil {
			reasons = append(reasons, reason)
		}
		lacking[reason] = append(lacking[reason], name)
	}
	for i := range c.Limits {
		l := &c.Limits[i]
		switch {
		case c.Waived(i, air), s.Missing[l.Measure] == simulation.NotRun:
		case s.Missing[l.Measure] != "":
			missing(objectives.At(l.Measure).Named(), s.Missing[l.Measure])
		case l.Violation(s) != "":
			why := l.Violation(s)
			if met := closest(gaps, l.Measure); met != "" {
				why += " (" + met + ")"
			}
			add(why)
		}
	}
	for i := range c.Goals {
		if m := c.Goals[i].Measure; s.Missing[m] != "" && s.Missing[m] != simulation.NotRun && c.LimitOn(m) < 0 {
			missing("objective "+objectives.At(m).Named(), s.Missing[m])
		}
	}
	for _, reason := range reasons {
		add(reason + ": no value of " + strings.Join(lacking[reason], ", "))
	}
	return all
}

// closest says between which parts the smallest gap is that a measure of clearance is about, and where; it is empty for
// other measures.
func closest(gaps []clearance.Gap, measure int) string {
	hub := measure == objectives.HubClearance
	if !hub && measure != objectives.Clearance {
		return ""
	}
	var least *clearance.Gap
	for i := range gaps {
		g := &gaps[i]
		if strings.HasPrefix(g.Pair, hubPair) == hub && (least == nil || g.GapMM < least.GapMM) {
			least = g
		}
	}
	if least == nil {
		return ""
	}
	return fmt.Sprintf("%s at %.4g mm of travel, steered %.3g°", least.Pair, least.TravelMM, least.SteerDeg)
}

// BodiesOf are the two bodies that a pair of parts belongs to, the first of them first in the mechanism; false where
// one is not a member of a body: the wheel, the frame, a shock or a shaft.
func (c *Case) BodiesOf(pair string) (of [2]int, ok bool) {
	first, second, _ := strings.Cut(pair, " / ")
	a, b := c.bodyOf(first), c.bodyOf(second)
	return [2]int{min(a, b), max(a, b)}, a >= 0 && b >= 0
}

// bodyOf is the body whose member a part is; -1: none's.
func (c *Case) bodyOf(part string) int {
	for i, body := range c.Mechanism.Bodies {
		if strings.HasPrefix(part, body+" ") && strings.Contains(part, "–") {
			return i
		}
	}
	return -1
}

// SameByDefault tells whether two bodies stand at one half width that the job does not give for either.
func (c *Case) SameByDefault(a, b int) bool {
	given := func(body int) bool {
		_, ok := c.halfWidths[c.Mechanism.Bodies[body]]
		return ok || c.Variable(ColumnHalfWidth(c.Mechanism.Bodies[body])) >= 0
	}
	return c.Across.HalfWidthMM[a] == c.Across.HalfWidthMM[b] && !given(a) && !given(b)
}
