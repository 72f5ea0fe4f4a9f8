package files

import (
	"io"

	"forkfront/jobs/files/document"
	"forkfront/jobs/files/sections"
	"forkfront/kinematics/scheme"
)

// JobFile is one search. Bikes, packages, mechanisms, concepts to start from and seeds are swept: each
// combination is a case with a search of its own. Shocks and materials are variables of the search
// unless sweep names them.
type JobFile struct {
	Job   string          `yaml:"job" jsonschema:"required" jsonschema_description:"a name"`
	Bikes []sections.Bike `yaml:"bikes" jsonschema:"required,minItems=1" jsonschema_description:"the bikes, each with its own searches"`
	sections.Travel
	sections.Ride
	sections.Aims
	sections.Dynamics
	Shocks        []sections.JobShock `yaml:"shocks" jsonschema:"minItems=1" jsonschema_description:"shock sizes to choose from; a variable of the search"`
	Mechanisms    []JobMechanism      `yaml:"mechanisms" jsonschema:"minItems=1" jsonschema_description:"the mechanisms, each with its own searches"`
	Topologies    *TopologiesSection  `yaml:"topologies" json:",omitempty" jsonschema_description:"enumerated linkages, each with its own searches, beside mechanisms or in place of them"`
	Start         []JobStart          `yaml:"start" jsonschema:"minItems=1" jsonschema_description:"existing concepts to search around, each with its own searches; a job with one start and no mechanisms takes everything that it omits, except bikes, from the concept"`
	Objectives    []JobObjective      `yaml:"objectives" jsonschema:"required,minItems=1" jsonschema_description:"measures to minimize, to maximize or to bring into a band"`
	Constraints   []JobConstraint     `yaml:"constraints" jsonschema_description:"limits on measures; measures not listed keep their default limits, see jobs/docs/constraints.md"`
	Budget        Budget              `yaml:"budget" jsonschema:"required" jsonschema_description:"when the search of a case ends: at the first limit reached"`
	Race          *RaceSection        `yaml:"race" json:",omitempty" jsonschema_description:"cases race for total_evaluations: after each round those go on whose fronts cover most together, half of all or fewer; see jobs/docs/which-linkage.md"`
	GradientShare float64             `yaml:"gradient_share" jsonschema:"minimum=0,maximum=1" default:"0.2" jsonschema_description:"share of the evaluations spent on the gradient stage"`
	Sweep         []string            `yaml:"sweep" jsonschema:"enum=shocks,enum=materials" jsonschema_description:"lists whose entries each get their own searches instead of being chosen by the search"`
	Keep          string              `yaml:"keep" jsonschema:"enum=front,enum=all" default:"front" jsonschema_description:"all: also write every evaluated candidate to candidates.parquet"`
	Events        string              `yaml:"events" jsonschema:"enum=none,enum=shortlist,enum=front" default:"shortlist" jsonschema_description:"candidates that are simulated in events and written to events.parquet, in a job with a ride section: none, the suggested ones, or all of the front (about 0.2 s each on one core)"`
	Traces        string              `yaml:"traces" jsonschema:"enum=none,enum=shortlist,enum=front" default:"none" jsonschema_description:"candidates whose events are written over time to traces.parquet, 500 samples a second, in a job with a ride section: none, the suggested ones, or all of the front (about 0.04 s and 0.2 MB each)"`
	Prefer        map[string]float64  `yaml:"prefer" json:",omitempty" jsonschema_description:"weight of each measure in the ranking of the shortlist, such as {trail_variation_mm: 2, mass_g: 1}; without it, all objectives count alike. It does not change the search"`
	FrontSize     int                 `yaml:"front_size" jsonschema:"minimum=1" default:"500" jsonschema_description:"maximum number of candidates reported per case, spread over its front"`
	Seeds         []uint64            `yaml:"seeds" jsonschema:"minItems=1" default:"[1]" jsonschema_description:"seeds from 0 to 2^63 − 1, each with its own searches"`

	Materials []sections.Material `yaml:"materials" jsonschema:"minItems=1" default:"[7075-T6]" jsonschema_description:"materials to choose from for the tubes; a variable of the search if there are several"`
	sections.Surroundings
	Packages []sections.PackageSection `yaml:"packages" jsonschema:"minItems=1" jsonschema_description:"several packages instead, each with its own searches"`
	sections.Build
}

// JobMechanism is a mechanism with bounds for its points.
type JobMechanism struct {
	Mechanism     string            `yaml:"mechanism" jsonschema:"required" jsonschema_description:"a built-in mechanism or the path of a mechanism file"`
	ShockCount    int               `yaml:"shock_count" jsonschema:"minimum=1,maximum=2" default:"1" jsonschema_description:"one shock, or two side by side"`
	BoundsMM      map[string]Bounds `yaml:"bounds_mm" jsonschema:"required" jsonschema_description:"range of each point of the mechanism at top-out. The point root is where the arms of the fork start, at the underside of the crown; it may be given too and is otherwise 25 mm below the crown race, on the steering axis"`
	ShockAngleRad *sections.Range   `yaml:"shock_angle_rad" jsonschema_description:"direction from shock_upper to shock_lower, positive from along towards ahead; their distance is the eye-to-eye length"`

	ShockBetween *ShockPairs `yaml:"shock_between" json:",omitempty" jsonschema_description:"pairs of bodies that the shock is between, each with its own searches; all: every pair that leaves no body without load. The upper eye is on the first body of a pair. One pair has shock_upper and shock_angle_rad to itself; of several, the mechanism's own pair does, for the others the upper eye keeps its range where it stays on its body and else may be where that body's pivots may be, and the lower one lies in any direction"`

	Across  sections.AcrossSection `yaml:"across" default:"{}" jsonschema_description:"lateral positions of the mechanism's parts"`
	LanesMM map[string][]float64   `yaml:"lanes_mm" json:",omitempty" jsonschema_description:"half widths of a body that the search chooses from, in place of one under across.half_width_mm, by body: a variable each. Not for bodies that slide on each other"`

	Spec scheme.MechanismSpec `yaml:"-" json:"-"` // the mechanism that the file names, read
}

// Bounds are the bounds of one point in the fork frame.
type Bounds struct {
	Along sections.Range `yaml:"along" jsonschema:"required" jsonschema_description:"mm down the steering axis from the crown race seat"`
	Ahead sections.Range `yaml:"ahead" jsonschema:"required" jsonschema_description:"mm ahead of the steering axis"`
}

// JobObjective is a measure with a sense or a wanted band.
type JobObjective struct {
	Measure    string         `yaml:"measure" jsonschema:"required" jsonschema_description:"a measure, see forkfront help measures"`
	Sense      string         `yaml:"sense" jsonschema:"enum=min,enum=max" jsonschema_description:"min or max; exactly one of sense and band is required"`
	Band       *sections.Band `yaml:"band" jsonschema_description:"desired range [low, high]"`
	Resolution *float64       `yaml:"resolution" jsonschema:"exclusiveMinimum=0" jsonschema_description:"differences below it do not count; by default that of the measure"`
	Enough     *float64       `yaml:"enough" jsonschema_description:"values beyond it count as equal"`
}

// JobConstraint is a measure with limits.
type JobConstraint struct {
	Measure string   `yaml:"measure" jsonschema:"required" jsonschema_description:"a measure, see forkfront help measures; with after, an event and its quantity"`
	Min     *float64 `yaml:"min" jsonschema_description:"smallest value allowed"`
	Max     *float64 `yaml:"max" jsonschema_description:"largest value allowed"`
	Off     bool     `yaml:"off" default:"false" jsonschema_description:"true: switches off the default limit of the measure"`
	After   bool     `yaml:"after" json:",omitempty" default:"false" jsonschema_description:"true: a limit on a quantity of an event, such as bump_braked_load_pct, see jobs/docs/events.md. Events are simulated after the search, and candidates of the front outside the limit are dropped"`

	Default bool `yaml:"-"` // not from the file
}

// Budget ends the search of a case, and bounds the sweep.
type Budget struct {
	MaxCases              int                `yaml:"max_cases" jsonschema:"minimum=1" default:"1000" jsonschema_description:"a sweep with more cases is rejected"`
	Evaluations           *int               `yaml:"evaluations" jsonschema:"minimum=1" jsonschema_description:"evaluations of a case: candidates, plus the cost of gradients"`
	Simulations           *int               `yaml:"simulations" json:",omitempty" jsonschema:"minimum=1" jsonschema_description:"where an objective or a constraint is about an event: forks of a case that are simulated during its search, from which all others are predicted; by default 100. Those that are reported are simulated besides. Neither counts as an evaluation"`
	TotalEvaluations      *int               `yaml:"total_evaluations" jsonschema:"minimum=1" jsonschema_description:"evaluations of all cases together, divided equally"`
	TotalWall             *sections.Duration `yaml:"total_wall" jsonschema_description:"wall time of all cases together, divided equally; the fronts then depend on the machine"`
	MaxWall               *sections.Duration `yaml:"max_wall" jsonschema_description:"wall time of a case; the front then depends on the machine"`
	StagnationGenerations *int               `yaml:"stagnation_generations" jsonschema:"minimum=1" jsonschema_description:"generations without growth of the front; while nothing is feasible, five times as many without a smaller violation"`
}

// ReadJob reads and checks a job file. Errors are those of ReadConcept.
func ReadJob(name string, r io.Reader) (*JobFile, *document.Source, error) {
	s, err := document.Open(name, r)
	if err != nil {
		return nil, s, err
	}
	var j JobFile
	s.Decode(&j)
	if s.Root != nil {
		j.check(s)
	}
	if s.Err() == nil {
		j.AddDefaults()
		j.checkCaseNames(s)
	}
	if err := s.Err(); err != nil {
		return nil, s, err
	}
	return &j, s, nil
}

// FirstSeed is the seed that a run record states.
func (j *JobFile) FirstSeed() uint64 {
	if len(j.Seeds) == 0 {
		return 0
	}
	return j.Seeds[0]
}

// Specs are the mechanisms that a job names, those of concepts to start from last.
func (j *JobFile) Specs() []*scheme.MechanismSpec {
	var all []*scheme.MechanismSpec
	for i := range j.Mechanisms {
		all = append(all, &j.Mechanisms[i].Spec)
	}
	for i := range j.Start {
		all = append(all, &j.Start[i].Around.Spec)
	}
	return all
}
