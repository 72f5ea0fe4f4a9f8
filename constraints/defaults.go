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

// The limits of a race (common practice, no source). A bicycle's front wheel has about 1000 kg cm² about a diameter: m r² / 2 of a
// ring of 1.8 kg at 33 cm. The examples, of all built-in mechanisms, have 290 to 1670 g and 36 to 1030 kg cm².
const (
	mostUnsprungG   = 2000
	mostInertiaKgC2 = 1200
)

// RaceDefaults are the further limits of a job whose cases race each other. Whoever names a mechanism knows what it weighs at the
// wheel; a choice among many linkages by other objectives would pay for every gain with parts that move and steer.
func RaceDefaults() []Limit {
	return []Limit{
		within(objectives.UnsprungMass, math.Inf(-1), mostUnsprungG),
		within(objectives.SteeringInertia, math.Inf(-1), mostInertiaKgC2),
	}
}

func within(measure int, low, high float64) Limit {
	return Limit{measure, low, high}
}
