package sections

import (
	"math"
	"slices"

	"forkfront/jobs/files/document"
	"forkfront/kinematics"
	"forkfront/kinematics/mechanism"
	"forkfront/kinematics/solid"
	"forkfront/objectives"
	"forkfront/objectives/clearance"
	"forkfront/objectives/fork"
)

// PackageSection is the section of a job or concept on the package of a fork: wheel, frame and what is fixed to them.
// Its defaults are common practice for a two-wheeler with a tyre of 61 mm, no source.
type PackageSection struct {
	Name          string    `yaml:"name" jsonschema_description:"a name; required if there are several packages"`
	TyreWidthMM   float64   `yaml:"tyre_width_mm" jsonschema:"exclusiveMinimum=0" default:"61" jsonschema_description:"width of the front tyre"`
	RimWidthMM    float64   `yaml:"rim_width_mm" jsonschema:"exclusiveMinimum=0" default:"30" jsonschema_description:"width of rim and spokes"`
	HubWidthMM    float64   `yaml:"hub_width_mm" jsonschema:"exclusiveMinimum=0" default:"100" jsonschema_description:"width of the hub between its contact faces"`
	RotorRadiusMM float64   `yaml:"rotor_radius_mm" jsonschema:"exclusiveMinimum=0" default:"80" jsonschema_description:"outer radius of hub and rotor"`
	LockDeg       float64   `yaml:"lock_deg" jsonschema:"exclusiveMinimum=0,exclusiveMaximum=90" default:"60" jsonschema_description:"steering angle to either side"`
	CrownRadiusMM float64   `yaml:"crown_radius_mm" jsonschema:"exclusiveMinimum=0" default:"25" jsonschema_description:"radius of the round crown between the steering axis and the root point"`
	ShockRadiusMM float64   `yaml:"shock_radius_mm" jsonschema:"exclusiveMinimum=0" default:"26" jsonschema_description:"radius of a shock's body"`
	ShaftRadiusMM float64   `yaml:"shaft_radius_mm" jsonschema:"exclusiveMinimum=0" default:"9" jsonschema_description:"radius of the shafts at the pivots"`
	HeadTube      TubePart  `yaml:"head_tube" default:"{from_mm: [-140, 0], to_mm: [-6, 0], diameter_mm: 56}" jsonschema_description:"head tube of the frame"`
	DownTube      TubePart  `yaml:"down_tube" default:"{from_mm: [-20, 0], to_mm: [140.55, -629.85], diameter_mm: 60}" jsonschema_description:"down tube of the frame"`
	KeepOut       []KeepOut `yaml:"keep_out" jsonschema_description:"further obstacles: mudguard, lamp, rack, battery"`
}

// Check notes sizes that contradict the wheel of a bike.
func (v *PackageSection) Check(s *document.Source, path string, wheel float64) {
	switch {
	case wheel <= 0 || v.TyreWidthMM <= 0: // noted already
	case v.TyreWidthMM >= wheel:
		s.At(path+".tyre_width_mm", "%g; must be less than the wheel's radius of %g", v.TyreWidthMM, wheel)
	case v.RimWidthMM > v.TyreWidthMM:
		s.At(path+".rim_width_mm", "%g; must be at most the tyre's width of %g", v.RimWidthMM, v.TyreWidthMM)
	case v.RotorRadiusMM >= wheel-v.TyreWidthMM:
		s.At(path+".rotor_radius_mm", "%g; must be less than the %g inside the tyre", v.RotorRadiusMM, wheel-v.TyreWidthMM)
	}
}

// TubePart is a tube of the frame in the mid-plane.
type TubePart struct {
	From       Point   `yaml:"from_mm" jsonschema:"required" jsonschema_description:"one end as [along, ahead]"`
	To         Point   `yaml:"to_mm" jsonschema:"required" jsonschema_description:"the other end"`
	DiameterMM float64 `yaml:"diameter_mm" jsonschema:"required,exclusiveMinimum=0" jsonschema_description:"outside diameter"`
}

// KeepOut is a round part between two points.
type KeepOut struct {
	Name     string     `yaml:"name" jsonschema:"required" jsonschema_description:"a name"`
	On       string     `yaml:"on" jsonschema:"enum=frame,enum=steerer" default:"frame" jsonschema_description:"frame: fixed to the frame; steerer: turns with the crown"`
	From     [3]float64 `yaml:"from_mm" jsonschema:"required" jsonschema_description:"one end as [along, ahead, left]"`
	To       [3]float64 `yaml:"to_mm" jsonschema:"required" jsonschema_description:"the other end"`
	RadiusMM float64    `yaml:"radius_mm" jsonschema:"required,exclusiveMinimum=0" jsonschema_description:"radius"`
}

// AcrossSection gives the lateral positions of a mechanism's parts.
type AcrossSection struct {
	HalfWidthMM      map[string]float64 `yaml:"half_width_mm" jsonschema_description:"distance of a body's tubes from the mid-plane on either side, 0 for a single tube in the mid-plane; by default 72 for bodies that carry the axle or the caliper and 45 for the others; bodies that slide on each other are at the same"`
	OneSided         []string           `yaml:"one_sided" jsonschema_description:"bodies on the left side only"`
	Shafts           map[string]string  `yaml:"shafts" jsonschema_description:"through or stub, by pivot; by default through if the shaft clears the wheel"`
	ShockHalfWidthMM float64            `yaml:"shock_half_width_mm" jsonschema:"minimum=0" default:"72" jsonschema_description:"distance of each of two shocks from the mid-plane"`
}

// Given tells whether the section gives the lateral position of any body. Where it does not, arms that would pass
// beside the wheel are assumed to collide with it.
func (a *AcrossSection) Given() bool {
	return len(a.HalfWidthMM) > 0 || len(a.OneSided) > 0 || len(a.Shafts) > 0
}

// Kinds of shafts at a pivot.
const (
	ShaftThrough = "through"
	ShaftStub    = "stub"
)

// Check compares names with those of the mechanism.
func (a *AcrossSection) Check(s *document.Source, path string, m *mechanism.Mechanism) {
	for _, body := range s.Keys(path + ".half_width_mm") {
		if !slices.Contains(m.Bodies, body) {
			s.At(path+".half_width_mm."+body, "unknown body; %s", document.Suggest(body, m.Bodies))
		} else if w := a.HalfWidthMM[body]; w < 0 {
			s.At(path+".half_width_mm."+body, "%g; must be 0 or more", w)
		}
	}
	for _, k := range m.Slides() {
		guide, slider := m.Bodies[k.Guide], m.Bodies[k.Slider]
		of, given := a.HalfWidthMM[guide]
		if on, too := a.HalfWidthMM[slider]; given && too && of != on {
			s.At(path+".half_width_mm."+slider, "%g; must be %g as for %q, in or on whose tubes it slides", on, of, guide)
		}
	}
	for i, body := range a.OneSided {
		if !slices.Contains(m.Bodies, body) {
			s.At(document.Item(path+".one_sided", i), "%q is not a body; %s", body, document.Suggest(body, m.Bodies))
		}
	}
	for _, point := range s.Keys(path + ".shafts") {
		kind := a.Shafts[point]
		switch {
		case m.Point(point) < 0:
			s.At(path+".shafts."+point, "unknown pivot; %s", document.Suggest(point, m.Points))
		case kind != ShaftThrough && kind != ShaftStub:
			s.At(path+".shafts."+point, "%q; expected through or stub", kind)
		}
	}
}

// Model is the section in the model's terms.
func (a *AcrossSection) Model(m *mechanism.Mechanism) *fork.Across {
	x := fork.DefaultAcross(m)
	x.ShockHalfWidthMM = a.ShockHalfWidthMM
	for i, body := range m.Bodies {
		if w, given := a.HalfWidthMM[body]; given {
			x.HalfWidthMM[i] = w
		}
		x.OneSide[i] = slices.Contains(a.OneSided, body)
	}
	for _, k := range m.Slides() { // tubes that run in each other: one given places both
		_, guide := a.HalfWidthMM[m.Bodies[k.Guide]]
		_, slider := a.HalfWidthMM[m.Bodies[k.Slider]]
		switch {
		case guide && !slider:
			x.HalfWidthMM[k.Slider] = x.HalfWidthMM[k.Guide]
		case slider && !guide:
			x.HalfWidthMM[k.Guide] = x.HalfWidthMM[k.Slider]
		}
	}
	for i, point := range m.Points {
		switch a.Shafts[point] {
		case ShaftThrough:
			x.Shafts[i] = fork.ShaftThrough
		case ShaftStub:
			x.Shafts[i] = fork.ShaftStub
		}
	}
	return x
}

// Assembly is the assembly of one mechanism in the package. The layout tells which shafts stay clear of the wheel.
func (v *PackageSection) Assembly(m *mechanism.Mechanism, c *objectives.Conditions, x *fork.Across, layout []kinematics.Vec[float64], shock *fork.Shock) *clearance.Assembly {
	p := &fork.Package{
		TyreWidthMM: v.TyreWidthMM, RimWidthMM: v.RimWidthMM, HubWidthMM: v.HubWidthMM, RotorRadiusMM: v.RotorRadiusMM,
		LockRad: v.LockDeg * math.Pi / 180, CrownRadiusMM: v.CrownRadiusMM, ShockRadiusMM: v.ShockRadiusMM,
		Frame: []fork.Capsule{v.HeadTube.capsule("head tube"), v.DownTube.capsule("down tube")},
	}
	for i := range v.KeepOut {
		k := &v.KeepOut[i]
		if k.On == "steerer" {
			p.Steered = append(p.Steered, k.capsule())
		} else {
			p.Frame = append(p.Frame, k.capsule())
		}
	}
	for range m.Points {
		p.Shafts = append(p.Shafts, v.ShaftRadiusMM)
	}
	for range m.Tubes() {
		p.Members = append(p.Members, v.ShaftRadiusMM)
	}
	x.Settle(m, &c.Chassis, c.TravelMM, layout, shock, p)
	return clearance.NewAssembly(p, m, x, &c.Chassis, shock)
}

func (t *TubePart) capsule(name string) fork.Capsule {
	return fork.Capsule{
		Name: name, RadiusMM: t.DiameterMM / 2, Joined: true,
		Ends: solid.Segment[float64]{{Along: t.From[0], Ahead: t.From[1]}, {Along: t.To[0], Ahead: t.To[1]}},
	}
}

func (k *KeepOut) capsule() fork.Capsule {
	end := func(p [3]float64) solid.Spot[float64] {
		return solid.Spot[float64]{Along: p[0], Ahead: p[1], Left: p[2]}
	}
	return fork.Capsule{Name: k.Name, RadiusMM: k.RadiusMM, Ends: solid.Segment[float64]{end(k.From), end(k.To)}}
}
