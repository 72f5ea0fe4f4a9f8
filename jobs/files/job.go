package files

import (
	"io"

	"forkfront/kinematics"
)

// JobFile is one search. Bikes, packages, mechanisms, concepts to start from and seeds are swept: each
// combination is a case with a search of its own. Shocks and materials are variables of the search
// unless sweep names them.
type JobFile struct {
	Job             string          `yaml:"job" jsonschema:"required" jsonschema_description:"a name"`
	Bikes           []Bike          `yaml:"bikes" jsonschema:"required,minItems=1" jsonschema_description:"the bikes, each with its own searches"`
	TravelMM        float64         `yaml:"travel_mm" jsonschema:"required,exclusiveMinimum=0" jsonschema_description:"how far the axle moves along the steering axis"`
	SagPct          float64         `yaml:"sag_pct" jsonschema:"exclusiveMinimum=0,exclusiveMaximum=100" default:"20" jsonschema_description:"travel at which the static load balances, in % of travel_mm"`
	BrakingG        float64         `yaml:"braking_g" jsonschema:"exclusiveMinimum=0" default:"0.5" jsonschema_description:"deceleration of a hard stop, in g"`
	Attitude        string          `yaml:"attitude" jsonschema:"enum=pitching,enum=level" default:"pitching" jsonschema_description:"pitching: both wheels stay on level ground; level: the head angle stays as given"`
	LeverageBand    Band            `yaml:"leverage_band" default:"[2.0, 3.0]" jsonschema_description:"desired leverage ratio [low, high]"`
	AntiDiveBand    Band            `yaml:"anti_dive_band" default:"[0, 50]" jsonschema_description:"desired anti-dive in % [low, high]"`
	CoilRatesNPerMM []float64       `yaml:"coil_rates_n_per_mm" jsonschema:"minItems=1" jsonschema_description:"available coil rates; by default 250 to 650 lb/in in steps of 25"`
	Shocks          []JobShock      `yaml:"shocks" jsonschema:"minItems=1" jsonschema_description:"shock sizes to choose from; a variable of the search"`
	Mechanisms      []JobMechanism  `yaml:"mechanisms" jsonschema:"minItems=1" jsonschema_description:"the mechanisms, each with its own searches"`
	Start           []JobStart      `yaml:"start" jsonschema:"minItems=1" jsonschema_description:"existing concepts to search around, each with its own searches; a job with one start and no mechanisms takes everything that it omits, except bikes, from the concept"`
	Objectives      []JobObjective  `yaml:"objectives" jsonschema:"required,minItems=1" jsonschema_description:"measures to minimize, to maximize or to bring into a band"`
	Constraints     []JobConstraint `yaml:"constraints" jsonschema_description:"limits on measures; measures not listed keep their default limits, see jobs/docs/constraints.md"`
	Budget          Budget          `yaml:"budget" jsonschema:"required" jsonschema_description:"when the search of a case ends: at the first limit reached"`
	GradientShare   float64         `yaml:"gradient_share" jsonschema:"minimum=0,maximum=1" default:"0.2" jsonschema_description:"share of the evaluations spent on the gradient stage"`
	Sweep           []string        `yaml:"sweep" jsonschema:"enum=shocks,enum=materials" jsonschema_description:"lists whose entries each get their own searches instead of being chosen by the search"`
	Keep            string          `yaml:"keep" jsonschema:"enum=front,enum=all" default:"front" jsonschema_description:"all: also write every evaluated candidate to candidates.parquet"`
	FrontSize       int             `yaml:"front_size" jsonschema:"minimum=1" default:"500" jsonschema_description:"maximum number of candidates reported per case, spread over its front"`
	Seeds           []uint64        `yaml:"seeds" jsonschema:"minItems=1" default:"[1]" jsonschema_description:"seeds from 0 to 2^63 − 1, each with its own searches"`

	Materials  []Material        `yaml:"materials" jsonschema:"minItems=1" default:"[7075-T6]" jsonschema_description:"materials to choose from for the tubes; a variable of the search if there are several"`
	Package    PackageSection    `yaml:"package" default:"{}" jsonschema_description:"the space around the fork"`
	Packages   []PackageSection  `yaml:"packages" jsonschema:"minItems=1" jsonschema_description:"several packages instead, each with its own searches"`
	Structure  StructureSection  `yaml:"structure" default:"{}" jsonschema_description:"loads, sizes, parts and prices"`
	Telescopic TelescopicSection `yaml:"telescopic" default:"{}" jsonschema_description:"the telescopic fork that a linkage would replace"`
}

// JobShock is a shock that can be bought.
type JobShock struct {
	Name       string  `yaml:"name" jsonschema:"required" jsonschema_description:"name in the results"`
	EyeToEyeMM float64 `yaml:"eye_to_eye_mm" jsonschema:"required,exclusiveMinimum=0" jsonschema_description:"length at top-out"`
	StrokeMM   float64 `yaml:"stroke_mm" jsonschema:"required,exclusiveMinimum=0" jsonschema_description:"maximum compression"`
	MassG      float64 `yaml:"mass_g" jsonschema:"exclusiveMinimum=0" jsonschema_description:"mass of one, including the spring; by default estimated from its size"`
	Spring     string  `yaml:"spring" jsonschema:"enum=coil,enum=air" default:"coil" jsonschema_description:"coil or air"`
	PreloadMM  float64 `yaml:"preload_mm" jsonschema:"minimum=0" default:"0" jsonschema_description:"compression of a coil at top-out"`
	BoreMM     float64 `yaml:"bore_mm" jsonschema:"exclusiveMinimum=0" jsonschema_description:"bore of an air spring"`
	ChamberMM  float64 `yaml:"chamber_mm" jsonschema:"exclusiveMinimum=0" jsonschema_description:"length of an air spring's chamber at top-out"`
	MaxBar     float64 `yaml:"pressure_max_bar" jsonschema:"exclusiveMinimum=0" jsonschema_description:"maximum gauge pressure of an air spring at top-out; by default 24"`
}

// Unit is the shock as a concept has it.
func (k *JobShock) Unit(count int) Shock {
	return Shock{
		Count: count, EyeToEyeMM: k.EyeToEyeMM, StrokeMM: k.StrokeMM, MassG: k.MassG,
		Spring: k.Spring, PreloadMM: k.PreloadMM, BoreMM: k.BoreMM, ChamberMM: k.ChamberMM, MaxBar: k.MaxBar,
	}
}

// JobMechanism is a mechanism and where its points may lie.
type JobMechanism struct {
	Mechanism     string            `yaml:"mechanism" jsonschema:"required" jsonschema_description:"a built-in mechanism or the path of a mechanism file"`
	ShockCount    int               `yaml:"shock_count" jsonschema:"minimum=1,maximum=2" default:"1" jsonschema_description:"one shock, or two side by side"`
	BoundsMM      map[string]Bounds `yaml:"bounds_mm" jsonschema:"required" jsonschema_description:"range of each point of the mechanism at top-out"`
	ShockAngleRad *Range            `yaml:"shock_angle_rad" jsonschema_description:"direction from shock_upper to shock_lower, positive from along towards ahead; their distance is the eye-to-eye length"`

	Across AcrossSection `yaml:"across" default:"{}" jsonschema_description:"lateral positions of the mechanism's parts"`

	Spec kinematics.MechanismSpec `yaml:"-" json:"-"` // the mechanism that the file names, read
}

// Bounds are where one point may lie in the fork frame.
type Bounds struct {
	Along Range `yaml:"along" jsonschema:"required" jsonschema_description:"mm down the steering axis from the crown race seat"`
	Ahead Range `yaml:"ahead" jsonschema:"required" jsonschema_description:"mm ahead of the steering axis"`
}

// JobObjective is a measure with a sense or a wanted band.
type JobObjective struct {
	Measure    string   `yaml:"measure" jsonschema:"required" jsonschema_description:"a measure, see forkfront help measures"`
	Sense      string   `yaml:"sense" jsonschema:"enum=min,enum=max" jsonschema_description:"min or max; exactly one of sense and band is required"`
	Band       *Band    `yaml:"band" jsonschema_description:"desired range [low, high]"`
	Resolution *float64 `yaml:"resolution" jsonschema:"exclusiveMinimum=0" jsonschema_description:"differences below it do not count; by default that of the measure"`
	Enough     *float64 `yaml:"enough" jsonschema_description:"values beyond it count as equal"`
}

// JobConstraint is a measure with limits.
type JobConstraint struct {
	Measure string   `yaml:"measure" jsonschema:"required" jsonschema_description:"a measure, see forkfront help measures"`
	Min     *float64 `yaml:"min" jsonschema_description:"smallest value allowed"`
	Max     *float64 `yaml:"max" jsonschema_description:"largest value allowed"`
	Off     bool     `yaml:"off" default:"false" jsonschema_description:"true: switches off the default limit of the measure"`

	Default bool `yaml:"-"` // not from the file
}

// Budget ends the search of a case, and bounds the sweep.
type Budget struct {
	MaxCases              int       `yaml:"max_cases" jsonschema:"minimum=1" default:"1000" jsonschema_description:"a sweep with more cases is rejected"`
	Evaluations           *int      `yaml:"evaluations" jsonschema:"minimum=1" jsonschema_description:"evaluations of a case: candidates, plus the cost of gradients"`
	TotalEvaluations      *int      `yaml:"total_evaluations" jsonschema:"minimum=1" jsonschema_description:"evaluations of all cases together, divided equally"`
	TotalWall             *Duration `yaml:"total_wall" jsonschema_description:"wall time of all cases together, divided equally; the fronts then depend on the machine"`
	MaxWall               *Duration `yaml:"max_wall" jsonschema_description:"wall time of a case; the front then depends on the machine"`
	StagnationGenerations *int      `yaml:"stagnation_generations" jsonschema:"minimum=1" jsonschema_description:"generations without growth of the front; while nothing is feasible, five times as many without a smaller violation"`
}

// ReadJob reads and checks a job file. Errors are those of ReadConcept.
func ReadJob(name string, r io.Reader) (*JobFile, *Source, error) {
	s, err := open(name, r)
	if err != nil {
		return nil, s, err
	}
	var j JobFile
	s.Decode(&j)
	if s.Root != nil {
		j.check(s)
	}
	if len(s.faults) == 0 {
		j.AddDefaults()
		j.checkCaseNames(s)
	}
	if err := s.Err(); err != nil {
		return nil, s, err
	}
	return &j, s, nil
}

// Level tells whether the head angle stays as given.
func (j *JobFile) Level() bool { return j.Attitude == "level" }

// FirstSeed is the seed that a run record states.
func (j *JobFile) FirstSeed() uint64 {
	if len(j.Seeds) == 0 {
		return 0
	}
	return j.Seeds[0]
}

// Specs are the mechanisms that a job names, those of concepts to start from last.
func (j *JobFile) Specs() []*kinematics.MechanismSpec {
	var all []*kinematics.MechanismSpec
	for i := range j.Mechanisms {
		all = append(all, &j.Mechanisms[i].Spec)
	}
	for i := range j.Start {
		all = append(all, &j.Start[i].Around.Spec)
	}
	return all
}
