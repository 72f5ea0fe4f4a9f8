package constraints

import (
	"math"

	"forkfront/objectives"
	"forkfront/objectives/structure"
)

// Tubes is the limit that no tube is larger than the structure's rules allow. A fork without sizes meets it, as does
// any fork where the rules are nil.
func Tubes(s *structure.Rules) Limit {
	if s == nil {
		return At(objectives.TubeDiameterMax)
	}
	return Limit{objectives.TubeDiameterMax, math.Inf(-1), s.Tubes.MaxDiameterMM}
}

// Pressure is the limit on the pressure of an air spring: what it holds. A coil meets it.
func Pressure(s *objectives.Score) Limit {
	l := At(objectives.AirPressure)
	if s.MaxPressureBar > 0 {
		l.Max = s.MaxPressureBar
	}
	return l
}

// Buildable are the limits on what can be built and bought.
func Buildable(of *structure.Rules, s *objectives.Score) [2]Limit {
	return [2]Limit{Tubes(of), Pressure(s)}
}

// Beyond returns the limit that a fork violates most, and by how much in units of its measure's scale; 0 if it meets
// all of them.
func Beyond(of *structure.Rules, s *objectives.Score) (worst Limit, by float64) {
	for _, l := range Buildable(of, s) {
		if x := l.Oversize(s); x >= by {
			worst, by = l, x
		}
	}
	return worst, by
}

// Oversize is by how much a measure exceeds such a limit, in units of its scale; 0 within it or where the measure has
// no value.
func (l *Limit) Oversize(s *objectives.Score) float64 {
	if s.Missing[l.Measure] != "" {
		return 0
	}
	return math.Max(0, l.Amount(s))
}
