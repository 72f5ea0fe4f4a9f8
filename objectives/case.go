package objectives

import (
	"forkfront/objectives/ride"
	"forkfront/objectives/structure"
)

// Conditions are what all candidates of one case share: the setting of their motion, the rules that sizes
// follow from, and the telescopic fork beside which they are judged. They never change, so all workers share
// them.
type Conditions struct {
	ride.Setting
	Structure *structure.Rules // nil: forks get no sizes
	Baseline  *Reference
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

// NewConditions works out the telescopic fork of a setting. Without rules forks get no sizes.
func NewConditions(s ride.Setting, rules *structure.Rules) *Conditions {
	c := &Conditions{Setting: s, Structure: rules}
	b := &Reference{Baseline: ride.NewBaseline(&c.Setting), Values: make([]float64, len(Measures)), Missing: make([]string, len(Measures))}
	c.Baseline = b
	var known structure.OfTelescopic
	const unknown = "not known of the telescopic fork"
	if rules != nil {
		known = structure.Telescopic(&rules.Replaced, b.Baseline)
	}
	f := &findings{ride: b.Ride, missing: missingOf(b.Ride)}
	f.missing[NeedStructure], f.missing[NeedPackage] = unknown, unknown
	f.read(b.Values, b.Missing)
	for i := range Measures {
		switch m := &Measures[i]; {
		case m.telescopic != nil && rules != nil:
			b.Values[i], b.Missing[i] = m.telescopic(&known), ""
		case m.OfLinkage && m.Needs != NeedStructure:
			b.Values[i], b.Missing[i] = 0, "a telescopic fork has none"
		}
	}
	return c
}
