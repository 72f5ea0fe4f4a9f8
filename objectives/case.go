package objectives

import (
	"forkfront/objectives/quarter"
	"forkfront/objectives/ride"
	"forkfront/objectives/structure"
)

// Conditions are what all candidates of one case share: the setting of their motion, the rules that sizes
// follow from, and the telescopic fork beside which they are judged. They never change, so all workers share
// them.
type Conditions struct {
	ride.Setting
	Structure *structure.Rules // nil: forks get no sizes
	Quarter   *quarter.Setting // nil: nothing is known of damper, tyre and road
	Baseline  *Reference
	Events    *Events             // nil: forks are not simulated
	Damper    *quarter.Adjustment // in events, what the dampers of forks are set to; nil: what each needs
}

// Reference is the telescopic fork as a score has it.
type Reference struct {
	*ride.Baseline
	Values  []float64 // of the measures
	Missing []string  // why a measure has no value; empty: it has
}

// Known has its measures by name, without those that it does not have.
func (r *Reference) Known() map[string]float64 {
	known := map[string]float64{}
	for i, why := range r.Missing {
		if why == "" {
			known[Measures[i].Name] = r.Values[i]
		}
	}
	return known
}

// NewConditions works out the telescopic fork of a setting. Without rules forks get no sizes, without damping no quarter
// model; with it, the chassis must have an unsprung mass at the front.
func NewConditions(s ride.Setting, rules *structure.Rules, damping *quarter.Setting) *Conditions {
	c := &Conditions{Setting: s, Structure: rules, Quarter: damping}
	b := &Reference{Baseline: ride.NewBaseline(&c.Setting), Values: make([]float64, len(Measures)), Missing: make([]string, len(Measures))}
	c.Baseline = b
	known := knownTelescopic{ride: b.Ride, quarter: damping}
	const unknown = "not known of the telescopic fork"
	if rules != nil {
		known.OfTelescopic = structure.Telescopic(&rules.Replaced, b.Baseline)
	}
	f := &findings{ride: b.Ride, missing: missingOf(b.Ride)}
	f.damp(c)
	f.missing[NeedStructure], f.missing[NeedPackage] = unknown, unknown
	f.read(b.Values, b.Missing)
	for i := range Measures {
		switch m := &Measures[i]; {
		case f.lacks(m.given) != "":
		case m.telescopic != nil && rules != nil:
			b.Values[i], b.Missing[i] = m.telescopic.of(&known), ""
		case m.OfLinkage && m.Needs != NeedStructure:
			b.Values[i], b.Missing[i] = 0, "a telescopic fork has none"
		}
	}
	return c
}

// knownTelescopic is what is known of the telescopic fork without sizing it.
type knownTelescopic struct {
	structure.OfTelescopic
	ride    *ride.Ride[float64]
	quarter *quarter.Setting
}
