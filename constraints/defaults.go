package constraints

import (
	"math"
	"slices"

	"forkfront/objectives"
)

// Rates of the coils that are commonly on sale, N/mm: 250 to 650 lb/in (common practice, no source).
const softestCoil, stiffestCoil = 44, 114

// mostDampingVariation is how far the damping ratio may vary from sag to full travel, in % of that at sag (common practice,
// no source).
const mostDampingVariation = 30

// Defaults are the limits that apply unless a job says otherwise (common practice, no source). coils are the available
// rates in N/mm, nil for the common ones; foreAft is the stiffness in N/mm that tubes are sized up to, 0 where they are
// sized only for strength. Limits on damping apply where the job gives what they need.
func Defaults(coils []float64, foreAft float64, given objectives.Given) []Limit {
	softest, stiffest := float64(softestCoil), float64(stiffestCoil)
	if len(coils) > 0 {
		softest, stiffest = slices.Min(coils), slices.Max(coils)
	}
	all := []Limit{
		within(objectives.ShockStrokeUsedPct, 88, 100),
		within(objectives.SpringRate, softest, stiffest),
		within(objectives.Progression, 0, 30),
		within(objectives.TransmissionAngleMin, 35, math.Inf(1)),
		within(objectives.BrakeDiveVersus, math.Inf(-1), 0),
		within(objectives.PathInclination, -15, 15),
	}
	for _, i := range objectives.GapMeasures {
		all = append(all, within(i, 0, math.Inf(1)))
	}
	if foreAft > 0 {
		all = append(all, within(objectives.ForeAftStiffness, foreAft, math.Inf(1)))
	}
	if given.Ride {
		all = append(all, within(objectives.DampingVariation, math.Inf(-1), mostDampingVariation))
	}
	if given.Ride && given.Dampers {
		all = append(all, within(objectives.DamperMisfit, math.Inf(-1), 0))
	}
	return all
}

func within(measure int, low, high float64) Limit {
	return Limit{measure, low, high}
}
