package sections

import (
	"slices"

	"forkfront/jobs/files/document"
	"forkfront/objectives/structure"
)

// The sections that a job and a concept have in common, each embedded in both kinds of file where its keys
// stand. A job that starts from one concept inherits what it omits of them, and notes compare them, by their
// fields: see common.go.

// Travel is how far the axle moves.
type Travel struct {
	TravelMM float64 `yaml:"travel_mm" jsonschema:"required,exclusiveMinimum=0" jsonschema_description:"how far the axle moves along the steering axis"`
}

// Ride is the state of the bike at which measures are taken.
type Ride struct {
	SagPct   float64 `yaml:"sag_pct" jsonschema:"exclusiveMinimum=0,exclusiveMaximum=100" default:"20" jsonschema_description:"travel at which the static load balances, in % of travel_mm"`
	BrakingG float64 `yaml:"braking_g" jsonschema:"exclusiveMinimum=0" default:"0.5" jsonschema_description:"deceleration of a hard stop, in g"`
	Attitude string  `yaml:"attitude" jsonschema:"enum=pitching,enum=level" default:"pitching" jsonschema_description:"pitching: both wheels stay on level ground; level: the head angle stays as given"`
}

// Aims are what leverage ratio, anti-dive, coil rate and damping are compared with.
type Aims struct {
	LeverageBand    Band      `yaml:"leverage_band" default:"[2.0, 3.0]" jsonschema_description:"desired leverage ratio [low, high]"`
	AntiDiveBand    Band      `yaml:"anti_dive_band" default:"[0, 50]" jsonschema_description:"desired anti-dive in % [low, high]"`
	CoilRatesNPerMM []float64 `yaml:"coil_rates_n_per_mm" jsonschema:"minItems=1" jsonschema_description:"available coil rates; by default 250 to 650 lb/in in steps of 25"`
	PreloadRangeMM  *Band     `yaml:"preload_range_mm" json:",omitempty" jsonschema_description:"preload that a coil's collar allows, which forkfront tune may propose; by default that of the shock and no other"`
	Dampers         []Damper  `yaml:"dampers" jsonschema:"minItems=1" jsonschema_description:"available dampers; with them, one has to fit the fork, by default"`
}

// Surroundings is the package: what the fork must not touch.
type Surroundings struct {
	Package PackageSection `yaml:"package" default:"{}" jsonschema_description:"the space around the fork"`
}

// Build is how the fork is made, and what it is compared with.
type Build struct {
	Structure  StructureSection  `yaml:"structure" default:"{}" jsonschema_description:"loads, sizes, parts and prices"`
	Proof      ProofSection      `yaml:"proof" default:"{}" jsonschema_description:"test loads that sized forks are checked against"`
	Telescopic TelescopicSection `yaml:"telescopic" default:"{}" jsonschema_description:"the telescopic fork that the linkage would replace"`
}

// Rules are the sections in the model's terms.
func (b *Build) Rules() *structure.Rules {
	r := b.Structure.Model(&b.Telescopic)
	if r.Proof = b.Proof.Model(slices.Clone(r.Cases)); r.Proof != nil && b.Proof.SizeTubes {
		r.SizeForTests()
	}
	return r
}

// Level tells whether the head angle stays as given, instead of following from the pitch of the bike.
func (r *Ride) Level() bool { return r.Attitude == "level" }

// Check notes coil rates that are not above 0 and a preload that no collar has.
func (a *Aims) Check(s *document.Source) {
	for i, k := range a.CoilRatesNPerMM {
		if k <= 0 {
			s.At(document.Item("coil_rates_n_per_mm", i), "%g; must be more than 0", k)
		}
	}
	if p := a.PreloadRangeMM; p != nil {
		p.Check(s, "preload_range_mm")
		if p[0] < 0 {
			s.At("preload_range_mm", "lower bound %g; must be 0 or more", p[0])
		}
	}
}
