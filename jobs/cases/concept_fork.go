package cases

import (
	"fmt"
	"io"

	"forkfront/jobs/files"
	"forkfront/kinematics"
	"forkfront/objectives"
)

// Conditions are those of a concept's own file, with the telescopic fork that it would replace.
func Conditions(c *files.ConceptFile) *objectives.Conditions {
	conditions := &objectives.Conditions{
		Chassis: c.Chassis(), TravelMM: c.TravelMM, SagPct: c.SagPct, BrakingG: c.BrakingG,
		Leverage:  objectives.Band{Low: c.LeverageBand[0], High: c.LeverageBand[1]},
		AntiDive:  objectives.Band{Low: c.AntiDiveBand[0], High: c.AntiDiveBand[1]},
		CoilRates: c.CoilRatesNPerMM, Samples: samples, Structure: c.Structure.Model(&c.Telescopic),
	}
	conditions.Prepare()
	return conditions
}

// Design is the concept's fork. A shock without a stroke gets one, and notes says so.
func Design(c *files.ConceptFile, s *files.Source, notes io.Writer) (*objectives.Design, error) {
	return DesignOf(c, files.Compile(c.Spec), Conditions(c), s, notes)
}

func DesignOf(c *files.ConceptFile, m *kinematics.Mechanism, conditions *objectives.Conditions, s *files.Source, notes io.Writer) (*objectives.Design, error) {
	d := &objectives.Design{Mechanism: m, Layout: make([]kinematics.Vec[float64], len(m.Points))}
	d.Across, d.Material = c.Across.Model(m), c.Material.Model()
	for name, p := range c.Points() {
		d.Layout[m.Point(name)] = kinematics.Vec[float64](p)
	}
	if m.HasShock() {
		shock(c, &d.Shock, d.Layout[m.Point(kinematics.PointShockUpper)], d.Layout[m.Point(kinematics.PointShockLower)], s, notes)
	}
	d.Room = c.Package.Room(m, conditions, d.Across, d.Layout, &d.Shock)
	return d, s.Err()
}

// eyesAgree is how exactly a stated eye-to-eye length must be that of the shock's points, in mm:
// drawings give tenths.
const eyesAgree = 0.1

func shock(c *files.ConceptFile, dst *objectives.Shock, upper, lower kinematics.Vec[float64], s *files.Source, notes io.Writer) {
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
		dst.StrokeMM = files.StrokeShare * between
		fmt.Fprintf(notes, "the shock has no stroke_mm; %.2f of its length of %.4g mm is used: %.4g mm\n", files.StrokeShare, between, dst.StrokeMM)
	}
}

// samples is how many travels people read, from top-out to full travel.
const samples = 33

func conditions(j *files.JobFile, b *files.Bike) *objectives.Conditions {
	c := &objectives.Conditions{
		Chassis: b.Chassis(j.Level()), TravelMM: j.TravelMM, SagPct: j.SagPct, BrakingG: j.BrakingG,
		Leverage:  objectives.Band{Low: j.LeverageBand[0], High: j.LeverageBand[1]},
		AntiDive:  objectives.Band{Low: j.AntiDiveBand[0], High: j.AntiDiveBand[1]},
		CoilRates: j.CoilRatesNPerMM, Samples: samples, Structure: j.Structure.Model(&j.Telescopic),
	}
	c.Prepare()
	return c
}
