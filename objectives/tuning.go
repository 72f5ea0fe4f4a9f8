package objectives

import (
	"forkfront/objectives/quarter"
	"forkfront/objectives/simulation"
)

// DampingRatio is that of a fork at sag with its damper set, the mean of compression and rebound; false where the fork has none.
func (c *Conditions) DampingRatio(of *Score, set *quarter.Adjustment) (ratio float64, ok bool) {
	if c.Quarter == nil || of.Missing[damperCoefficient] != "" {
		return 0, false
	}
	return c.Quarter.DampingRatio * (set.CompressionNS + set.ReboundNS) / 2 / of.Values[damperCoefficient], true
}

// Needs is what the damper of a fork is set to unless its conditions say otherwise; false where the fork has no spring.
func (st Study) Needs(score *Score) (set quarter.Adjustment, ok bool) {
	if score.Missing[damperCoefficient] != "" {
		return set, false
	}
	return of(st).conditions.adjustment(subjectOf(st, score, nil)), true
}

// Try simulates the fork, with its score, in some events of its conditions with its damper set; other events have no values,
// nor have comparisons with the telescopic fork.
func (st Study) Try(by *simulation.Simulator, dst *simulation.Results, score *Score, set *quarter.Adjustment, in []int) {
	c := of(st).conditions
	c.simulate(by, dst, c.Events.plan(), subjectOf(st, score, set), in)
}

// TryTelescopic does the same with the telescopic fork.
func (c *Conditions) TryTelescopic(by *simulation.Simulator, dst *simulation.Results, set *quarter.Adjustment, in []int) {
	c.simulate(by, dst, c.Events.plan(), c.Baseline.subject(set), in)
}

// TelescopicNeeds is what the damper of the telescopic fork is set to.
func (c *Conditions) TelescopicNeeds() quarter.Adjustment {
	return c.adjustment(c.Baseline.subject(nil))
}
