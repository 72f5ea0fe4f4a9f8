package objectives

import (
	"slices"
	"sync"

	"forkfront/kinematics"
	"forkfront/kinematics/mechanism"
	"forkfront/kinematics/scheme"
	"forkfront/objectives/fork"
	"forkfront/objectives/structure/parts"
)

// telescopicMechanism is the telescopic baseline as a mechanism: lowers that slide on the crown's tubes, with their springs
// in them.
var telescopicMechanism = sync.OnceValue(func() *mechanism.Mechanism {
	m, faults := mechanism.Compile(scheme.MechanismSpec{
		Name: "telescopic", Ground: "crown", Bodies: []string{"crown", "lowers"}, Axle: "lowers", Shock: [2]string{"crown", "lowers"},
		Slides: []scheme.SlideSpec{{Name: "leg", Bodies: [2]string{"crown", "lowers"}, Through: [2]string{"tube_top", "tube_end"}}},
		Members: []scheme.MemberSpec{
			{Body: "crown", From: scheme.PointRoot, To: "tube_top"},
			{Body: "crown", From: "tube_top", To: "tube_end"},
			{Body: "crown", From: "tube_top", To: scheme.PointShockUpper},
			{Body: "lowers", From: scheme.PointShockLower, To: scheme.PointAxle},
		},
	})
	if len(faults) > 0 {
		panic("objectives: the telescopic fork: " + faults[0].Text)
	}
	return m
})

// LegInternalsG is the mass of springs and dampers in both legs of a telescopic fork (from memory, no source).
const LegInternalsG = 600.0

// telescopicDesign is the telescopic fork of a case as a design: legs along the steering axis through the axle, its bushes
// where the section on the fork that is replaced has them. The crown itself is a fixed part, so legs begin where it ends.
func (c *Conditions) telescopicDesign() *Design {
	m, x, r := telescopicMechanism(), &c.Chassis, &c.Structure.Replaced
	mouth := x.AxleToCrownMM - r.Lowers(&c.Setting)
	top := mouth - c.TravelMM - mechanism.SlideReserveMM
	d := &Design{
		Mechanism: m, Layout: make([]kinematics.Vec[float64], len(m.Points)), Across: fork.DefaultAcross(m),
		Shock: fork.Shock{Count: 2, EyeToEyeMM: x.AxleToCrownMM - top - 20, StrokeMM: c.TravelMM, MassG: LegInternalsG / 2},
	}
	for name, along := range map[string]float64{
		scheme.PointRoot: top - 5, "tube_top": top, scheme.PointShockUpper: top - 2, "tube_end": mouth + r.BushOverlapMM,
		scheme.PointShockLower: x.AxleToCrownMM - 20, scheme.PointAxle: x.AxleToCrownMM,
	} {
		d.Layout[m.Point(name)] = kinematics.Vec[float64]{Along: along, Ahead: x.ForkOffsetMM}
	}
	return d
}

// TelescopicSizes are the measures, by their numbers, that tables and reports have of the telescopic fork sized by the rules for
// all forks. The others are those of the fork to replace, whose mass is given.
var TelescopicSizes = []int{Mass, TubeDiameterMax, ForeAftStiffness, LateralStiffness, TorsionalStiffness}

// SizedTelescopic is the telescopic fork of a case sized by the rules for all forks, of tubes of a material: what its
// measures come to, those out of the plane included. Its mass is beside the given one. Where it has no sizes, each says why.
func (c *Conditions) SizedTelescopic(material *fork.Material) *Score {
	s := &Score{}
	if c.Structure == nil {
		s.Values, s.Missing = make([]float64, len(Measures)), slices.Repeat([]string{"no structure is asked for"}, len(Measures))
		return s
	}
	own := *c
	rules := *c.Structure
	rules.Slides = parts.SlideRules{OverlapMM: rules.Replaced.BushOverlapMM, BushFriction: rules.Replaced.BushFriction}
	own.Structure = &rules
	d := own.telescopicDesign()
	d.Material = material
	study := NewScorer(&own).Score(s, d)
	study.refine(s)
	study.outOfPlane(s)
	return s
}
