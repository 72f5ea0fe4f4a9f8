// Package constraints turns measures into what is allowed: how far outside a design is, and why.
package constraints

import (
	"fmt"
	"math"
	"strings"

	"forkfront/objectives"
)

// Limit is a constraint: a measure and its allowed range. An infinite end does not bind.
type Limit struct {
	Measure  int // in objectives.Measures
	Min, Max float64
}

// At is a limit on a measure that allows every value, until Min or Max is set.
func At(measure int) Limit { return Limit{measure, math.Inf(-1), math.Inf(1)} }

// Missing is the amount of a limit whose measure has no value: worse than that of most values outside.
const Missing = 10

// Amount is the distance of a measure from its allowed range, in units of the measure's scale: positive outside,
// zero at the limit, and negative inside, where it is the margin.
func (l *Limit) Amount(s *objectives.Score) float64 {
	if s.Missing[l.Measure] != "" {
		return Missing
	}
	return l.Of(s.Values[l.Measure])
}

// Of is the amount of a value.
func (l *Limit) Of(value float64) float64 {
	amount, _ := l.outside(value)
	return amount
}

// Slope is the derivative of Amount with respect to the measure: ±1 over its scale.
func (l *Limit) Slope(s *objectives.Score) float64 {
	_, slope := l.outside(s.Values[l.Measure])
	return slope
}

func (l *Limit) outside(x float64) (amount, slope float64) {
	scale := objectives.At(l.Measure).Scale
	below, above := l.Min-x, x-l.Max
	if below > above {
		return below / scale, -1 / scale
	}
	return above / scale, 1 / scale
}

// Violation describes in words how a limit is violated, in the measure's unit; empty when it is met.
func (l *Limit) Violation(s *objectives.Score) string {
	m := objectives.At(l.Measure)
	amount := func(v float64) string { return strings.TrimSpace(objectives.Digits(v, 4) + " " + m.Unit) }
	switch x := s.Values[l.Measure]; {
	case s.Missing[l.Measure] != "":
		return m.Named() + ": no value: " + s.Missing[l.Measure]
	case x < l.Min:
		return fmt.Sprintf("%s: %s, %s below the minimum of %s", m.Named(), amount(x), amount(l.Min-x), amount(l.Min))
	case x > l.Max:
		return fmt.Sprintf("%s: %s, %s above the maximum of %s", m.Named(), amount(x), amount(x-l.Max), amount(l.Max))
	}
	return ""
}

// Works is the amount by which a design violates the constraint that it works: 0 when it does, otherwise graded by the
// travel reached, so that a search can improve it.
func Works(s *objectives.Score, travelMM float64) float64 {
	if s.Fault == "" {
		return 0
	}
	return Missing * (2 - s.ReachedMM/travelMM)
}
