package spaceframe

import (
	"math"

	"forkfront/objectives/structure/frame"
	"forkfront/objectives/structure/loads"
	"forkfront/objectives/structure/parts"
)

// Model is a sized fork at one stance as a space frame, for programs that solve frames: the one from which its stresses
// and its stiffness out of the plane come. Lengths are in mm, along the axes of the fork frame; the third, across, is that
// of along × ahead.
type Model struct {
	*frame.Frame[float64]
	Points []string    // by node: the point of the mechanism that it is at
	Beams  []ModelBeam // by beam of the frame
	Hub    int         // node of the wheel's hub, in the mid-plane
	Loads  []ModelLoad
}

// ModelBeam is what a beam of a model stands for.
type ModelBeam struct {
	Part              string // such as "leg axle–lower" or "shaft of upper"
	Member            int    // whose tube it is; −1: none
	YoungMPa          float64
	OutsideMM, BoreMM float64
	OnlyAxial         bool // it is hinged at its ends
}

// ModelLoad is a load on a model: a load case of the rules, or a unit load that gives a stiffness.
type ModelLoad struct {
	Name   string
	OnNode map[int]frame.Load[float64]
}

// Stiffness loads of a model at sag: their sizes, and their names.
const (
	StiffnessForceN   = 100.0
	StiffnessMomentNM = 10.0

	ForeAftLoad   = "fore-aft stiffness"
	LateralLoad   = "lateral stiffness"
	TorsionalLoad = "torsional stiffness"
)

// ModelOf is a sized fork at a stance, with the load cases at that stance, and at sag the loads that give its stiffness:
// a horizontal force backwards at the hub, a side force at the contact point, a moment about the steering axis at the hub.
func ModelOf(z *Fork[float64], at loads.Stance) *Model {
	f := newSpaceFrame(z, at)
	m := &Model{Frame: &f.Frame, Hub: f.hub}
	for _, p := range f.points {
		m.Points = append(m.Points, z.Path.Mechanism.PointName(p))
	}
	for _, p := range f.parts {
		m.Beams = append(m.Beams, modelBeam(f, p))
	}
	for k := range z.Rules.Cases {
		if c := &z.Rules.Cases[k]; c.At == at {
			m.Loads = append(m.Loads, ModelLoad{c.Name, f.loads(c)})
		}
	}
	if at == loads.AtSag {
		back := loads.InFork(&z.Ride.Sag, -StiffnessForceN, 0)
		m.Loads = append(
			m.Loads,
			ModelLoad{ForeAftLoad, map[int]frame.Load[float64]{f.hub: {back.Along, back.Ahead}}},
			ModelLoad{LateralLoad, map[int]frame.Load[float64]{f.hub: f.sideForce(StiffnessForceN)}},
			ModelLoad{TorsionalLoad, map[int]frame.Load[float64]{f.hub: {3: 1000 * StiffnessMomentNM}}},
		)
	}
	return m
}

func modelBeam(f *spaceFrame[float64], p beamPart) ModelBeam {
	z := f.z
	m := z.Path.Mechanism
	b := ModelBeam{Member: -1, YoungMPa: parts.SteelMPa}
	switch p.kind {
	case tubePart:
		t := &z.Members[p.number]
		b.Part, b.Member, b.YoungMPa = z.Path.TubeName(p.number), p.number, z.Material.YoungMPa
		b.OutsideMM, b.BoreMM = t.DiameterMM, t.DiameterMM-2*t.WallMM
		return b
	case shockPart:
		b.Part, b.OnlyAxial, b.OutsideMM = "shock", true, math.Sqrt(4/math.Pi*parts.LockedMM2)
		return b
	case axlePart:
		b.Part = "wheel axle"
	case eyeShaftPart:
		b.Part = "shaft of a shock's eye"
	case shaftPart:
		b.Part = "shaft of " + m.Points[z.Path.Pivots[p.number].Point]
	}
	b.OutsideMM, b.BoreMM = f.ring(p)
	b.BoreMM *= b.OutsideMM
	return b
}
