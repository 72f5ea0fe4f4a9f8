package sections

import (
	"slices"

	"forkfront/jobs/files/document"
	"forkfront/objectives/structure"
	"forkfront/objectives/structure/loads"
	"forkfront/objectives/structure/parts"
)

// StructureSection is the section of a job or concept on loads, sizes, parts and prices. Its defaults
// are common practice at concept stage, without a source: a start, not a certificate.
type StructureSection struct {
	LoadCases     []LoadCase  `yaml:"load_cases" jsonschema:"minItems=1" jsonschema_description:"load cases; by default landing, braking at sag and at full travel, rearward push and side load"`
	Tubes         TubeSection `yaml:"tubes" default:"{}" jsonschema_description:"limits of the round tubes that members are made of"`
	Pivots        PivotRules  `yaml:"pivots" default:"{}" jsonschema_description:"design rules for pivots"`
	Slides        SlideRules  `yaml:"slides" default:"{}" jsonschema_description:"design rules for tubes that slide in each other"`
	FixedParts    []FixedPart `yaml:"fixed_parts" jsonschema_description:"parts that every fork has; by default steerer, crown bridge, axle and brake mount"`
	Costs         CostSection `yaml:"costs" default:"{}" jsonschema_description:"prices for comparing forks, all in one unit of your choice"`
	ForeAftNPerMM float64     `yaml:"fore_aft_stiffness_n_per_mm" jsonschema:"minimum=0" default:"60" jsonschema_description:"stiffness to which tubes are sized; 0: strength only"`
	ToleranceMM   float64     `yaml:"pivot_tolerance_mm" jsonschema:"minimum=0" default:"0.2" jsonschema_description:"standard deviation of each pivot's position, along and ahead"`
	ShockFriction float64     `yaml:"shock_friction_n" jsonschema:"minimum=0" default:"30" jsonschema_description:"friction of each shock at its shaft"`
}

// LoadCase is one way in which a fork is loaded; what it states acts together.
type LoadCase struct {
	Name           string  `yaml:"name" jsonschema:"required" jsonschema_description:"a name"`
	At             string  `yaml:"at" jsonschema:"required,enum=top_out,enum=sag,enum=full_travel" jsonschema_description:"position in the travel: top_out, sag or full_travel"`
	VerticalStatic float64 `yaml:"vertical_static" jsonschema:"minimum=0" default:"0" jsonschema_description:"upward force at the contact point, in multiples of the static front load"`
	TyreFriction   float64 `yaml:"tyre_friction" jsonschema:"minimum=0" default:"0" jsonschema_description:"hard braking with only the front brake, limited by this tyre friction coefficient and by pitch-over; 0: no braking"`
	RearwardN      float64 `yaml:"rearward_n" default:"0" jsonschema_description:"rearward force at the axle, perpendicular to the steering axis"`
	SideStatic     float64 `yaml:"side_static" jsonschema:"minimum=0" default:"0" jsonschema_description:"lateral force at the contact point, in multiples of the static front load"`
}

// TubeSection limits tubes.
type TubeSection struct {
	WallShare      float64 `yaml:"wall_share" jsonschema:"exclusiveMinimum=0,exclusiveMaximum=0.5" default:"0.08" jsonschema_description:"wall thickness as a fraction of the outside diameter"`
	MinWallMM      float64 `yaml:"min_wall_mm" jsonschema:"exclusiveMinimum=0" default:"1.2" jsonschema_description:"minimum wall thickness"`
	MinDiameterMM  float64 `yaml:"min_diameter_mm" jsonschema:"exclusiveMinimum=0" default:"16" jsonschema_description:"smallest outside diameter"`
	MaxDiameterMM  float64 `yaml:"max_diameter_mm" jsonschema:"exclusiveMinimum=0" default:"50" jsonschema_description:"largest outside diameter; a fork that needs more is infeasible"`
	Safety         float64 `yaml:"safety_factor" jsonschema:"minimum=1" default:"1.5" jsonschema_description:"safety factor against yield and buckling"`
	JointDiameters float64 `yaml:"joint_diameters" jsonschema:"minimum=0" default:"0.5" jsonschema_description:"mass of the joint at each end of a tube (lug, weld, gusset), as a length of that tube in diameters"`
}

// PivotRules are how pivots are made.
type PivotRules struct {
	StaticSafety    float64 `yaml:"static_safety" jsonschema:"exclusiveMinimum=0" default:"1" jsonschema_description:"static safety factor of rolling bearings (ISO 76)"`
	BushNPerMM2     float64 `yaml:"bush_n_per_mm2" jsonschema:"exclusiveMinimum=0" default:"60" jsonschema_description:"allowable pressure of a plain bush on its projected area"`
	ShaftYieldMPa   float64 `yaml:"shaft_yield_mpa" jsonschema:"exclusiveMinimum=0" default:"517.1" jsonschema_description:"yield strength of shafts; the default is normalized 4130 (MIL-HDBK-5J)"`
	ShaftBore       float64 `yaml:"shaft_bore" jsonschema:"minimum=0,exclusiveMaximum=1" default:"0.7" jsonschema_description:"ratio of inside to outside diameter of shafts"`
	Safety          float64 `yaml:"safety_factor" jsonschema:"minimum=1" default:"1.5" jsonschema_description:"safety factor of shafts against yield"`
	LeastArmMM      float64 `yaml:"least_arm_mm" jsonschema:"exclusiveMinimum=0" default:"10" jsonschema_description:"minimum lever arm of a pin force on its shaft, for bodies with equal half widths"`
	BossMM          float64 `yaml:"boss_mm" jsonschema:"minimum=0" default:"12" jsonschema_description:"length of a shaft beyond the centre of the outer body"`
	SleeveMM        float64 `yaml:"sleeve_mm" jsonschema:"minimum=0" default:"2" jsonschema_description:"wall thickness of the sleeve around a bearing or bush"`
	RollingFriction float64 `yaml:"rolling_friction" jsonschema:"minimum=0" default:"0.0015" jsonschema_description:"coefficient of friction of rolling bearings"`
	PlainFriction   float64 `yaml:"plain_friction" jsonschema:"minimum=0" default:"0.05" jsonschema_description:"coefficient of friction of plain bushes"`
	SealNMM         float64 `yaml:"seal_nmm" jsonschema:"minimum=0" default:"15" jsonschema_description:"seal torque of a rolling bearing"`
	Tilt            string  `yaml:"tilt" jsonschema:"enum=fixed,enum=free" default:"fixed" jsonschema_description:"fixed: pivots keep their bodies aligned; free: they allow tilt, as spherical bearings do. Affects lateral and torsional stiffness"`
}

// SlideRules are how the tubes of slides run in each other.
type SlideRules struct {
	OverlapMM    float64 `yaml:"overlap_mm" jsonschema:"minimum=10" default:"110" jsonschema_description:"distance between the two bushes at top-out, at the mouth of the outer tube and at the end of the inner one; it grows as the tubes move into each other. Less where the inner tube is too short for it and the travel"`
	BushFriction float64 `yaml:"bush_friction" jsonschema:"minimum=0" default:"0.05" jsonschema_description:"coefficient of friction of the bushes"`
}

// FixedPart is a part that every fork has.
type FixedPart struct {
	Name  string  `yaml:"name" jsonschema:"required" jsonschema_description:"a name"`
	MassG float64 `yaml:"mass_g" jsonschema:"required,minimum=0" jsonschema_description:"its mass"`
	At    string  `yaml:"at" jsonschema:"enum=crown,enum=axle" default:"crown" jsonschema_description:"crown: on the steering axis; axle: moves with the axle"`
}

// CostSection are prices of parts.
type CostSection struct {
	TubePart  float64 `yaml:"tube_part" jsonschema:"minimum=0" default:"6" jsonschema_description:"each tube, cut and joined"`
	TubePerKG float64 `yaml:"tube_per_kg" jsonschema:"minimum=0" default:"30" jsonschema_description:"tube material per kg"`
	Bearing   float64 `yaml:"bearing" jsonschema:"minimum=0" default:"6" jsonschema_description:"each rolling bearing"`
	Bush      float64 `yaml:"bush" jsonschema:"minimum=0" default:"2" jsonschema_description:"each plain bush"`
	Shaft     float64 `yaml:"shaft" jsonschema:"minimum=0" default:"8" jsonschema_description:"each shaft"`
	Shock     float64 `yaml:"shock" jsonschema:"minimum=0" default:"150" jsonschema_description:"each shock"`
	Fixed     float64 `yaml:"fixed" jsonschema:"minimum=0" default:"90" jsonschema_description:"all fixed parts together"`
}

// TelescopicSection describes the telescopic fork that a linkage would replace.
type TelescopicSection struct {
	MassG         float64 `yaml:"mass_g" jsonschema:"exclusiveMinimum=0" default:"2100" jsonschema_description:"mass"`
	Cost          float64 `yaml:"cost" jsonschema:"exclusiveMinimum=0" default:"400" jsonschema_description:"cost, in the unit of structure.costs"`
	BushFriction  float64 `yaml:"bush_friction" jsonschema:"minimum=0" default:"0.05" jsonschema_description:"coefficient of friction of its bushes"`
	BushOverlapMM float64 `yaml:"bush_overlap_mm" jsonschema:"exclusiveMinimum=0" default:"110" jsonschema_description:"distance between its two bushes at top-out; it grows with travel"`
	LowersMM      float64 `yaml:"lowers_mm" jsonschema:"minimum=0" default:"0" jsonschema_description:"height of the upper bush above the axle; by default axle_to_crown_mm minus travel_mm minus 30"`
}

// Check notes values of the section that contradict each other, and fills in the lists that are not given.
func (v *StructureSection) Check(s *document.Source, path string) {
	t := &v.Tubes
	if t.MinDiameterMM > 0 && t.MinDiameterMM <= 2*t.MinWallMM {
		s.At(path+".tubes.min_diameter_mm", "%g; must be more than twice the minimum wall thickness of %g", t.MinDiameterMM, t.MinWallMM)
	}
	if t.MaxDiameterMM > 0 && t.MaxDiameterMM < t.MinDiameterMM {
		s.At(path+".tubes.max_diameter_mm", "%g; must be at least the smallest diameter of %g", t.MaxDiameterMM, t.MinDiameterMM)
	}
	v.checkCases(s, path+".load_cases")
	if !s.Has(path + ".load_cases") {
		v.LoadCases = loadCases(loads.DefaultCases())
	}
	if !s.Has(path + ".fixed_parts") {
		v.FixedParts = nil
		for _, f := range parts.DefaultFixed() {
			v.FixedParts = append(v.FixedParts, FixedPart{f.Name, f.MassG, whereabouts[f.OnAxle]})
		}
	}
}

func (v *StructureSection) checkCases(s *document.Source, path string) {
	document.Twice(s, path, "name", len(v.LoadCases), func(i int) any { return v.LoadCases[i].Name })
	for i, c := range v.LoadCases {
		if c.VerticalStatic == 0 && c.TyreFriction == 0 && c.RearwardN == 0 && c.SideStatic == 0 {
			s.At(document.Item(path, i), "no load; give at least one of vertical_static, tyre_friction, rearward_n, side_static")
		}
	}
}

var (
	stances     = []string{"top_out", "sag", "full_travel"} // by objectives.Stance
	whereabouts = map[bool]string{false: "crown", true: "axle"}
)

func loadCases(all []loads.Case) []LoadCase {
	var out []LoadCase
	for _, c := range all {
		out = append(out, LoadCase{c.Name, stances[c.At], c.VerticalStatic, c.TyreFriction, c.RearwardN, c.SideStatic})
	}
	return out
}

// Model is the section in the model's terms.
func (v *StructureSection) Model(t *TelescopicSection) *structure.Rules {
	m := &structure.Rules{
		Tubes: parts.TubeRules(v.Tubes), Pivots: parts.PivotRules(v.Pivots), Slides: parts.SlideRules(v.Slides), Costs: parts.CostRates(v.Costs),
		Replaced: structure.Replaced(*t), ForeAftNPerMM: v.ForeAftNPerMM, ToleranceMM: v.ToleranceMM, ShockNewton: v.ShockFriction,
	}
	for _, c := range v.LoadCases {
		m.Cases = append(m.Cases, loads.Case{
			Name: c.Name, At: loads.Stance(slices.Index(stances, c.At)), VerticalStatic: c.VerticalStatic,
			TyreFriction: c.TyreFriction, RearwardN: c.RearwardN, SideStatic: c.SideStatic,
		})
	}
	for _, f := range v.FixedParts {
		m.Fixed = append(m.Fixed, parts.Fixed{Name: f.Name, MassG: f.MassG, OnAxle: f.At == "axle"})
	}
	return m
}
