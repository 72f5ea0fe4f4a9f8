package files

import (
	"io"
	"math"
	"slices"

	"forkfront/jobs/files/document"
	"forkfront/jobs/files/sections"
	"forkfront/kinematics"
	"forkfront/kinematics/mechanism"
	"forkfront/kinematics/scheme"
	"forkfront/kinematics/stance"
	"forkfront/objectives/quarter"
)

// ConceptFile is one fork.
type ConceptFile struct {
	Concept   string                    `yaml:"concept" jsonschema:"required" jsonschema_description:"a name"`
	Bike      sections.Bike             `yaml:"bike" jsonschema:"required" jsonschema_description:"the bike, with the fork at top-out"`
	Mechanism string                    `yaml:"mechanism" jsonschema:"required" jsonschema_description:"a built-in mechanism or the path of a mechanism file"`
	PointsMM  map[string]sections.Point `yaml:"points_mm" jsonschema:"required" jsonschema_description:"position of every point of the mechanism at top-out as [along, ahead] in the fork frame. The point root is where the arms of the fork start, at the underside of the crown; by default 25 mm below the crown race, on the steering axis"`
	sections.Travel
	Shock *sections.Shock `yaml:"shock" jsonschema_description:"the spring and damper units"`
	sections.Ride
	sections.Aims
	sections.Dynamics
	Damper *sections.DamperSetting `yaml:"damper" json:",omitempty" jsonschema_description:"what the shock's damper is set to in events; without it, what the fork needs. The measures keep telling what it needs"`

	Material sections.Material `yaml:"material" default:"7075-T6" jsonschema_description:"material of the tubes"`
	sections.Surroundings
	Across sections.AcrossSection `yaml:"across" default:"{}" jsonschema_description:"lateral positions of the mechanism's parts"`
	sections.Build

	Spec scheme.MechanismSpec `yaml:"-" json:"-"` // the mechanism that the file names, read
}

// ReadConcept reads and checks a concept file. The name is used in messages, and paths in the file are relative to
// its folder. The error is Faults when the file is wrong, any other when it could not be read. The source is returned
// in both cases, so that later checks can add to it with At.
func ReadConcept(name string, r io.Reader) (*ConceptFile, *document.Source, error) {
	s, err := document.Open(name, r)
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

func (c *ConceptFile) check(s *document.Source) {
	if !s.Has("coil_rates_n_per_mm") {
		c.CoilRatesNPerMM = sections.CoilsOnSale()
	}
	c.Aims.Check(s)
	c.Bike.Check(s, "bike")
	c.Bike.CheckRide(s, "", c.TravelMM, c.BrakingG)
	c.Dynamics.Check(s, &c.Aims)
	c.CheckUnsprung(s, "bike.unsprung_front_kg", &c.Bike)
	c.LeverageBand.CheckRatio(s, "leverage_band")
	c.Structure.Check(s, "structure")
	c.Proof.Check(s, "proof", c.Structure.LoadCases, &c.Dynamics)
	c.Package.Check(s, "package", c.Bike.FrontRadiusMM)
	c.AntiDiveBand.Check(s, "anti_dive_band")
	if c.Shock != nil {
		c.Shock.Check(s, "shock")
	}
	if c.Damper != nil {
		c.Damper.Check(s, c.Damping, c.Dampers)
	}
	if m := mechanismOf(s, "", c.Mechanism, &c.Spec); m != nil {
		c.checkPoints(s, m)
		c.Across.Check(s, "across", m)
	}
}

// CheckShared checks a concept at a path of a file of cases, which leaves out the points that vary. Its mechanism was
// read before.
func (c *ConceptFile) CheckShared(s *document.Source, path string) {
	part := s.Under(path)
	part.Partial = true
	c.check(part)
	s.AddUnder(path, part)
}

// checkPoints compares the points given with those of the mechanism.
func (c *ConceptFile) checkPoints(s *document.Source, m *mechanism.Mechanism) {
	given := m.RequiredPoints()
	for _, name := range given {
		if !s.Has("points_mm."+name) && !s.Partial {
			s.At("points_mm."+name, "missing; required by mechanism %q", m.Name)
		}
	}
	for _, name := range s.Keys("points_mm") {
		if name == scheme.PointAxle {
			s.At("points_mm.axle", "the axle's position follows from axle_to_crown_mm and fork_offset_mm; remove it")
		} else if name != scheme.PointRoot && !slices.Contains(given, name) {
			s.At("points_mm."+name, "unknown point; %s", document.Suggest(name, given))
		}
	}
	if k := c.Shock; k != nil && m.HasShock() && k.EyeToEyeMM == 0 && !s.Partial {
		upper, lower := c.PointsMM[scheme.PointShockUpper], c.PointsMM[scheme.PointShockLower]
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
func (c *ConceptFile) Chassis() stance.Chassis { return c.Bike.Chassis(c.Level()) }

// Points are the positions of all points at top-out by name, including the axle and the crown root.
func (c *ConceptFile) Points() map[string]kinematics.Point {
	points := map[string]kinematics.Point{
		scheme.PointRoot: {Along: 25},
		scheme.PointAxle: {Along: c.Bike.AxleToCrownMM, Ahead: c.Bike.ForkOffsetMM},
	}
	for name, p := range c.PointsMM {
		points[name] = kinematics.Point{Along: p[0], Ahead: p[1]}
	}
	return points
}

// Layout has the positions of all points of a mechanism at top-out, in its order.
func (c *ConceptFile) Layout(m *mechanism.Mechanism) []kinematics.Vec[float64] {
	layout := make([]kinematics.Vec[float64], len(m.Points))
	for name, p := range c.Points() {
		layout[m.Point(name)] = kinematics.Vec[float64](p)
	}
	return layout
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
			a.Curve = c.Dampers[i].Model().Curve
		}
	}
	return a
}
