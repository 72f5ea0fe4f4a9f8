package files

import (
	"fmt"

	"forkfront/objectives"
)

// Words returns the limits of a constraint in words, with their unit.
func (l *JobConstraint) Words() string {
	unit := UnitOf(l.Of())
	switch {
	case l.Off:
		return "switched off"
	case l.Min == nil:
		return fmt.Sprintf("at most %.4g%s", *l.Max, unit)
	case l.Max == nil:
		return fmt.Sprintf("at least %.4g%s", *l.Min, unit)
	}
	return fmt.Sprintf("%.4g to %.4g%s", *l.Min, *l.Max, unit)
}

// Of is the measure that is constrained.
func (l *JobConstraint) Of() *objectives.Measure {
	return objectives.At(objectives.Index(l.Measure))
}

// UnitOf is the unit of a measure after a space, as it follows a number; empty for a ratio.
func UnitOf(m *objectives.Measure) string {
	if m.Unit == "" {
		return ""
	}
	return " " + m.Unit
}
