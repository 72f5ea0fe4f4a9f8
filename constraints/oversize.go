package constraints

import (
	"math"

	"forkfront/objectives"
)

// Tubes is the limit that no tube is larger than the structure's rules allow. A fork without sizes
// keeps it, as does any where no structure is asked for.
func Tubes(s *objectives.Structure) Limit {
	if s == nil {
		return At(objectives.Index("tube_diameter_max_mm"))
	}
	return Limit{objectives.Index("tube_diameter_max_mm"), math.Inf(-1), s.Tubes.MaxDiameterMM}
}

// Oversize is by how much the largest tube is beyond that limit, as a part of the measure's scale; 0
// within it.
func (l *Limit) Oversize(s *objectives.Score) float64 {
	if s.Missing[l.Measure] != "" {
		return 0
	}
	return math.Max(0, l.Amount(s))
}
