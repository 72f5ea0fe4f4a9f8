package cases

import (
	"fmt"
	"io"

	"forkfront/jobs/files"
	"forkfront/jobs/files/document"
	"forkfront/jobs/files/sections"
	"forkfront/kinematics"
	"forkfront/kinematics/mechanism"
	"forkfront/kinematics/scheme"
	"forkfront/kinematics/stance"
	"forkfront/objectives"
	"forkfront/objectives/fork"
	"forkfront/objectives/ride"
)

// Conditions are those of a concept's own file, with the telescopic fork that it would replace.
func Conditions(c *files.ConceptFile) *objectives.Conditions {
	all := conditionsOf(c.Chassis(), &c.Travel, &c.Ride, &c.Aims, &c.Dynamics, &c.Build)
	all.Damper = c.Adjustment()
	return all
}

// conditionsOf are the conditions of a bike by the sections that jobs and concepts have in common.
func conditionsOf(bike stance.Chassis, travel *sections.Travel, asks *sections.Ride, aims *sections.Aims, dynamics *sections.Dynamics, build *sections.Build) *objectives.Conditions {
	wanted := ride.Setting{Chassis: bike, TravelMM: travel.TravelMM, SagPct: asks.SagPct, BrakingG: asks.BrakingG, Samples: samples}
	c := objectives.NewConditions(aimed(wanted, aims), build.Rules(), dynamics.Model(aims))
	if events := dynamics.Events(); events != nil {
		c.Simulated(events)
	}
	return c
}

// aimed is a setting with the bands and coil rates of a file.
func aimed(s ride.Setting, aims *sections.Aims) ride.Setting {
	s.Leverage = ride.Band{Low: aims.LeverageBand[0], High: aims.LeverageBand[1]}
	s.AntiDive = ride.Band{Low: aims.AntiDiveBand[0], High: aims.AntiDiveBand[1]}
	s.CoilRates = aims.CoilRatesNPerMM
	return s
}

// Aim replaces the bands, coil rates and dampers of conditions.
func Aim(c *objectives.Conditions, aims *sections.Aims) {
	damping := c.Quarter
	if damping != nil {
		with := *damping
		with.Dampers = aims.Sold()
		damping = &with
	}
	events, damper := c.Events, c.Damper
	*c = *objectives.NewConditions(aimed(c.Setting, aims), c.Structure, damping)
	c.Events, c.Damper = events, damper
}

// Design is the concept's fork. A shock without a stroke gets one, and notes says so.
func Design(c *files.ConceptFile, s *document.Source, notes io.Writer) (*objectives.Design, error) {
	return DesignOf(c, files.Compile(c.Spec), Conditions(c), s, notes)
}

// DesignOf is Design for a mechanism and conditions that many concepts share. The error is Faults, with what does not
// fit the shock.
func DesignOf(c *files.ConceptFile, m *mechanism.Mechanism, conditions *objectives.Conditions, s *document.Source, notes io.Writer) (*objectives.Design, error) {
	d := &objectives.Design{Layout: c.Layout(m)}
	m = m.At(d.Layout)
	d.Mechanism, d.Across, d.Material = m, c.Across.Model(m), c.Material.Model()
	if m.HasShock() {
		shock(c, &d.Shock, d.Layout[m.Point(scheme.PointShockUpper)], d.Layout[m.Point(scheme.PointShockLower)], s, notes)
	}
	d.Assembly = c.Package.Assembly(m, conditions, d.Across, d.Layout, &d.Shock)
	return d, s.Err()
}

// eyesAgree is how exactly a stated eye-to-eye length must be that of the shock's points, in mm:
// drawings give tenths.
const eyesAgree = 0.1

func shock(c *files.ConceptFile, dst *fork.Shock, upper, lower kinematics.Vec[float64], s *document.Source, notes io.Writer) {
	between := kinematics.Distance(upper, lower)
	dst.Count, dst.EyeToEyeMM = 1, between
	if k := c.Shock; k != nil {
		dst.Count, dst.StrokeMM, dst.PreloadMM, dst.MassG = k.Count, k.StrokeMM, k.PreloadMM, k.MassG
		dst.Air = k.Air()
		if off := k.EyeToEyeMM - between; k.EyeToEyeMM > 0 && (off > eyesAgree || off < -eyesAgree) {
			s.At("shock.eye_to_eye_mm", "%g; the shock's points are %.4g mm apart", k.EyeToEyeMM, between)
		}
	}
	if k := c.Shock; k != nil && k.EyeToEyeMM > 0 {
		dst.EyeToEyeMM = k.EyeToEyeMM
	}
	if dst.StrokeMM == 0 {
		dst.StrokeMM = sections.StrokeShare * between
		fmt.Fprintf(notes, "the shock has no stroke_mm; %.2f of its length of %.4g mm is used: %.4g mm\n", sections.StrokeShare, between, dst.StrokeMM)
	}
}

// samples is how many travels people read, from top-out to full travel.
const samples = 33
