package files

import (
	"io"
	"math"
	"slices"

	"forkfront/kinematics"
	"forkfront/objectives/quarter"
)

// ConceptFile is one fork.
type ConceptFile struct {
	Concept   string           `yaml:"concept" jsonschema:"required" jsonschema_description:"a name"`
	Bike      Bike             `yaml:"bike" jsonschema:"required" jsonschema_description:"the bike, with the fork at top-out"`
	Mechanism string           `yaml:"mechanism" jsonschema:"required" jsonschema_description:"a built-in mechanism or the path of a mechanism file"`
	PointsMM  map[string]Point `yaml:"points_mm" jsonschema:"required" jsonschema_description:"position of every point of the mechanism at top-out as [along, ahead] in the fork frame. The point root is where the arms of the fork start, at the underside of the crown; by default 25 mm below the crown race, on the steering axis"`
	Travel
	Shock *Shock `yaml:"shock" jsonschema_description:"the spring and damper units"`
	Ride
	Aims
	Dynamics
	Damper *DamperSetting `yaml:"damper" json:",omitempty" jsonschema_description:"what the shock's damper is set to in events; without it, what the fork needs. The measures keep telling what it needs"`

	Material Material `yaml:"material" default:"7075-T6" jsonschema_description:"material of the tubes"`
	Surroundings
	Across AcrossSection `yaml:"across" default:"{}" jsonschema_description:"lateral positions of the mechanism's parts"`
	Build

	Spec kinematics.MechanismSpec `yaml:"-" json:"-"` // the mechanism that the file names, read
}

// newtonPerMMOfPoundPerInch is exact: a pound is 0.45359237 kg, standard gravity 9.80665 m/s², an inch 25.4 mm (NIST
// Special Publication 811, appendix B, from memory).
const newtonPerMMOfPoundPerInch = 4.4482216152605 / 25.4

// CoilsOnSale lists common coil rates in N/mm: 250 to 650 lb/in in steps of 25 (common practice,
// no source).
func CoilsOnSale() []float64 {
	var rates []float64
	for poundPerInch := 250; poundPerInch <= 650; poundPerInch += 25 {
		rates = append(rates, float64(poundPerInch)*newtonPerMMOfPoundPerInch)
	}
	return rates
}

// ReadConcept reads and checks a concept file. The name is used in messages, and paths in the file are relative to
// its folder. The error is Faults when the file is wrong, any other when it could not be read. The source is returned
// in both cases, so that later checks can add to it with At.
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
	if !s.has("coil_rates_n_per_mm") {
		c.CoilRatesNPerMM = CoilsOnSale()
	}
	c.Aims.check(s)
	c.Bike.check(s, "bike")
	c.Bike.checkRide(s, "", c.TravelMM, c.BrakingG)
	c.Dynamics.check(s, &c.Aims)
	c.checkUnsprung(s, "bike.unsprung_front_kg", &c.Bike)
	c.LeverageBand.checkRatio(s, "leverage_band")
	c.Structure.check(s, "structure")
	c.Proof.check(s, "proof", c.Structure.LoadCases, &c.Dynamics)
	c.Package.check(s, "package", c.Bike.FrontRadiusMM)
	c.AntiDiveBand.check(s, "anti_dive_band")
	if c.Shock != nil {
		c.Shock.check(s, "shock")
	}
	if c.Damper != nil {
		c.Damper.check(s, c)
	}
	if m := s.mechanismOf("", c.Mechanism, &c.Spec); m != nil {
		c.checkPoints(s, m)
		c.Across.check(s, "across", m)
	}
}

// CheckShared checks a concept at a path of a file of cases, which leaves out the points that vary. Its mechanism was
// read before.
func (c *ConceptFile) CheckShared(s *Source, path string) {
	part := s.Under(path)
	part.partial = true
	c.check(part)
	for _, f := range part.faults {
		f.Path = join(path, f.Path)
		s.faults = append(s.faults, f)
	}
}

// check notes coil rates that are not above 0 and a preload that no collar has.
func (a *Aims) check(s *Source) {
	for i, k := range a.CoilRatesNPerMM {
		if k <= 0 {
			s.At(item("coil_rates_n_per_mm", i), "%g; must be more than 0", k)
		}
	}
	if p := a.PreloadRangeMM; p != nil {
		p.check(s, "preload_range_mm")
		if p[0] < 0 {
			s.At("preload_range_mm", "lower bound %g; must be 0 or more", p[0])
		}
	}
}

// check notes a setting that nothing uses and a damper that is not listed.
func (k *DamperSetting) check(s *Source, c *ConceptFile) {
	if c.Damping == nil {
		s.At("damper", "not used without a ride section; remove it or add one, such as ride: {kind: trail}")
	}
	var names []string
	for i := range c.Dampers {
		if c.Dampers[i].Name == k.Name {
			return
		}
		names = append(names, c.Dampers[i].Name)
	}
	switch {
	case k.Name == "":
	case names == nil:
		s.At("damper.name", "%q; no dampers are listed", k.Name)
	default:
		s.At("damper.name", "no damper %q in dampers; %s", k.Name, suggest(k.Name, names))
	}
}

// checkPoints compares the points given with those of the mechanism.
func (c *ConceptFile) checkPoints(s *Source, m *kinematics.Mechanism) {
	given := m.RequiredPoints()
	for _, name := range given {
		if !s.has("points_mm."+name) && !s.partial {
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
	if k := c.Shock; k != nil && m.HasShock() && k.EyeToEyeMM == 0 && !s.partial {
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
func (c *ConceptFile) Chassis() kinematics.Chassis { return c.Bike.Chassis(c.Level()) }

// Points are the positions of all points at top-out by name, including the axle and the crown root.
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

// Adjustment is what the concept's damper is set to, in the model's terms; nil where the file does not say.
func (c *ConceptFile) Adjustment() *quarter.Adjustment {
	k := c.Damper
	if k == nil {
		return nil
	}
	a := &quarter.Adjustment{CompressionNS: k.CompressionNSPerM, ReboundNS: k.ReboundNSPerM}
	for i := range c.Dampers {
		if c.Dampers[i].Name == k.Name {
			a.Curve = c.Dampers[i].model().Curve
		}
	}
	return a
}

// StrokeShare is the stroke of a shock without a stated stroke, as a fraction of its eye-to-eye length.
const StrokeShare = 0.30
