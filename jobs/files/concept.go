package files

import (
	"io"
	"math"
	"path/filepath"
	"slices"

	"forkfront/kinematics"
	"forkfront/objectives"
)

// ConceptFile is one fork.
type ConceptFile struct {
	Concept         string           `yaml:"concept" jsonschema:"required" jsonschema_description:"a name"`
	Bike            Bike             `yaml:"bike" jsonschema:"required" jsonschema_description:"the bike, with the fork at top-out"`
	Mechanism       string           `yaml:"mechanism" jsonschema:"required" jsonschema_description:"a built-in mechanism or the path of a mechanism file"`
	PointsMM        map[string]Point `yaml:"points_mm" jsonschema:"required" jsonschema_description:"position of every point of the mechanism at top-out as [along, ahead] in the fork frame"`
	TravelMM        float64          `yaml:"travel_mm" jsonschema:"required,exclusiveMinimum=0" jsonschema_description:"how far the axle moves along the steering axis"`
	Shock           *Shock           `yaml:"shock" jsonschema_description:"the spring and damper units"`
	SagPct          float64          `yaml:"sag_pct" jsonschema:"exclusiveMinimum=0,exclusiveMaximum=100" default:"20" jsonschema_description:"travel at which the static load balances, in % of travel_mm"`
	BrakingG        float64          `yaml:"braking_g" jsonschema:"exclusiveMinimum=0" default:"0.5" jsonschema_description:"deceleration of a hard stop, in g"`
	Attitude        string           `yaml:"attitude" jsonschema:"enum=pitching,enum=level" default:"pitching" jsonschema_description:"pitching: both wheels stay on level ground; level: the head angle stays as given"`
	LeverageBand    Band             `yaml:"leverage_band" default:"[2.0, 3.0]" jsonschema_description:"desired leverage ratio [low, high]"`
	AntiDiveBand    Band             `yaml:"anti_dive_band" default:"[0, 50]" jsonschema_description:"desired anti-dive in % [low, high]"`
	CoilRatesNPerMM []float64        `yaml:"coil_rates_n_per_mm" jsonschema:"minItems=1" jsonschema_description:"available coil rates; by default 250 to 650 lb/in in steps of 25"`

	Material   Material          `yaml:"material" default:"7075-T6" jsonschema_description:"material of the tubes"`
	Package    PackageSection    `yaml:"package" default:"{}" jsonschema_description:"the space around the fork"`
	Across     AcrossSection     `yaml:"across" default:"{}" jsonschema_description:"lateral positions of the mechanism's parts"`
	Structure  StructureSection  `yaml:"structure" default:"{}" jsonschema_description:"loads, sizes, parts and prices"`
	Telescopic TelescopicSection `yaml:"telescopic" default:"{}" jsonschema_description:"the telescopic fork that the linkage would replace"`

	Spec kinematics.MechanismSpec `yaml:"-" json:"-"` // the mechanism that the file names, read
}

// Shock is the spring and damper unit; the rate of its spring follows from sag.
type Shock struct {
	Count      int     `yaml:"count" jsonschema:"minimum=1,maximum=2" default:"1" jsonschema_description:"one, or two side by side"`
	EyeToEyeMM float64 `yaml:"eye_to_eye_mm" jsonschema:"exclusiveMinimum=0" jsonschema_description:"length at top-out; by default the distance between the shock's points"`
	StrokeMM   float64 `yaml:"stroke_mm" jsonschema:"exclusiveMinimum=0" jsonschema_description:"maximum compression; by default 0.30 of the eye-to-eye length"`
	Spring     string  `yaml:"spring" jsonschema:"enum=coil,enum=air" default:"coil" jsonschema_description:"coil or air"`
	MassG      float64 `yaml:"mass_g" jsonschema:"exclusiveMinimum=0" jsonschema_description:"mass of one, including the spring; by default estimated from its size"`
	PreloadMM  float64 `yaml:"preload_mm" jsonschema:"minimum=0" default:"0" jsonschema_description:"compression of a coil at top-out"`
	BoreMM     float64 `yaml:"bore_mm" jsonschema:"exclusiveMinimum=0" jsonschema_description:"bore of an air spring"`
	ChamberMM  float64 `yaml:"chamber_mm" jsonschema:"exclusiveMinimum=0" jsonschema_description:"length of an air spring's chamber at top-out"`
	MaxBar     float64 `yaml:"pressure_max_bar" jsonschema:"exclusiveMinimum=0" jsonschema_description:"maximum gauge pressure of an air spring at top-out; by default 24"`
}

// check notes an air spring without its sizes, and sizes that a coil does not have.
func (k *Shock) check(s *Source, path string) {
	if k.EyeToEyeMM > 0 && k.StrokeMM >= k.EyeToEyeMM {
		s.At(path+".stroke_mm", "%g; must be less than the eye-to-eye length of %g", k.StrokeMM, k.EyeToEyeMM)
	}
	for _, key := range []string{"bore_mm", "chamber_mm"} {
		switch given := s.Has(path + "." + key); {
		case k.Spring == "air" && !given:
			s.At(path+"."+key, "missing; required for an air spring")
		case k.Spring == "coil" && given:
			s.At(path+"."+key, "not used by a coil; remove it or set spring: air")
		}
	}
	if at := path + ".pressure_max_bar"; k.Spring == "coil" && s.Has(at) {
		s.At(at, "not used by a coil; remove it or set spring: air")
	}
	if k.Spring == "air" && k.PreloadMM != 0 {
		s.At(path+".preload_mm", "%g; not used by an air spring, whose pressure follows from sag", k.PreloadMM)
	}
	if k.ChamberMM > 0 && k.StrokeMM >= k.ChamberMM {
		s.At(path+".chamber_mm", "%g; must be more than the stroke of %g", k.ChamberMM, k.StrokeMM)
	}
}

// Air is the shock's air spring, nil for a coil.
func (k *Shock) Air() *objectives.AirSpring {
	if k.Spring != "air" {
		return nil
	}
	a := &objectives.AirSpring{BoreMM: k.BoreMM, ChamberMM: k.ChamberMM, Exponent: 1.3, MaxBar: k.MaxBar}
	if a.MaxBar == 0 {
		a.MaxBar = airHoldsBar
	}
	return a
}

// airHoldsBar is the pressure up to which an air spring that does not say is pumped: 350 lb/in² (common
// practice, no source).
const airHoldsBar = 24

// CoilsOnSale lists common coil rates in N/mm: 250 to 650 lb/in in steps of 25 (common practice,
// no source), 1 lb/in = 0.175127 N/mm.
func CoilsOnSale() []float64 {
	var rates []float64
	for poundPerInch := 250; poundPerInch <= 650; poundPerInch += 25 {
		rates = append(rates, float64(poundPerInch)*0.175127)
	}
	return rates
}

// ReadConcept reads and checks a concept file. The name stands in messages, and paths in the file
// are relative to its folder. The error is Faults when the file is wrong, any other when it could
// not be read. The source comes back in both cases, so that later checks can add to it with At.
func ReadConcept(name string, r io.Reader) (*ConceptFile, *Source, error) {
	s, err := open(name, r)
	if err != nil {
		return nil, s, err
	}
	var c ConceptFile
	s.Decode(&c)
	if s.Root != nil {
		c.check(s)
	}
	if err := s.Err(); err != nil {
		return nil, s, err
	}
	return &c, s, nil
}

func (c *ConceptFile) check(s *Source) {
	if !s.Has("coil_rates_n_per_mm") {
		c.CoilRatesNPerMM = CoilsOnSale()
	}
	checkRates(s, c.CoilRatesNPerMM)
	c.Bike.check(s, "bike")
	c.Bike.checkRide(s, "", c.TravelMM, c.BrakingG)
	c.LeverageBand.checkRatio(s, "leverage_band")
	c.Structure.check(s, "structure")
	c.Package.check(s, "package", c.Bike.FrontRadiusMM)
	c.AntiDiveBand.check(s, "anti_dive_band")
	if c.Shock != nil {
		c.Shock.check(s, "shock")
	}
	if m := s.Mechanism("mechanism", c.Mechanism, &c.Spec); m != nil {
		c.checkPoints(s, m)
		c.Across.check(s, "across", m)
	}
}

func checkRates(s *Source, rates []float64) {
	for i, k := range rates {
		if k <= 0 {
			s.At(item("coil_rates_n_per_mm", i), "%g; must be more than 0", k)
		}
	}
}

// checkPoints holds the points given against those that the mechanism has.
func (c *ConceptFile) checkPoints(s *Source, m *kinematics.Mechanism) {
	given := m.RequiredPoints()
	for _, name := range given {
		if !s.Has("points_mm." + name) {
			s.At("points_mm."+name, "missing; required by mechanism %q", m.Name)
		}
	}
	for _, name := range s.Keys("points_mm") {
		if name == kinematics.PointAxle {
			s.At("points_mm.axle", "the axle's position follows from axle_to_crown_mm and fork_offset_mm; remove it")
		} else if name != kinematics.PointRoot && !slices.Contains(given, name) {
			s.At("points_mm."+name, "unknown point; %s", suggest(name, given))
		}
	}
	if k := c.Shock; k != nil && m.HasShock() && k.EyeToEyeMM == 0 {
		upper, lower := c.PointsMM[kinematics.PointShockUpper], c.PointsMM[kinematics.PointShockLower]
		if length := math.Hypot(lower[0]-upper[0], lower[1]-upper[1]); k.StrokeMM >= length && length > 0 {
			s.At("shock.stroke_mm", "%g; must be less than the %.4g mm between the shock's points", k.StrokeMM, length)
		}
	}
	if c.Shock != nil && !m.HasShock() {
		s.At("shock", "mechanism %q drives no shock; remove it", m.Name)
	}
	c.checkSteering(s, m)
}

// Chassis is the concept's bike in the units of the model.
func (c *ConceptFile) Chassis() kinematics.Chassis { return c.Bike.Chassis(c.Attitude == "level") }

// Points are the places of all points at top-out by name, the axle and the crown root included.
func (c *ConceptFile) Points() map[string]kinematics.Point {
	points := map[string]kinematics.Point{
		kinematics.PointRoot: {Along: 25},
		kinematics.PointAxle: {Along: c.Bike.AxleToCrownMM, Ahead: c.Bike.ForkOffsetMM},
	}
	for name, p := range c.PointsMM {
		points[name] = kinematics.Point{Along: p[0], Ahead: p[1]}
	}
	return points
}

// folder is where the paths in a file start: its own folder, for standard input the working folder.
func folder(file string) string {
	if file == "-" {
		return "."
	}
	return filepath.Dir(file)
}

// StrokeShare is the stroke of a shock that states none, as a part of its eye-to-eye length.
const StrokeShare = 0.30
