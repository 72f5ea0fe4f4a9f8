// Package cad turns a candidate into files for CAD: a side view in DXF and a table of its pivots.
package cad

import (
	"fmt"
	"io"

	"forkfront/kinematics"
	"forkfront/objectives"
	"forkfront/results/sideview"
)

// pinMM is how large pivots are drawn.
const pinMM = 4

// WriteDrawing writes the side view of a fork as DXF at 1:1 in mm, x forward and y up, the origin where the
// rear wheel touches the ground, as in the pivot table. Each body has a layer at top-out, and dashed
// ones at sag (_SAG) and bottom-out (_OUT); pivots, shock and wheel have theirs in the same way.
// AXLE_PATH is the path relative to the frame as that stands at top-out.
func WriteDrawing(w io.Writer, f *sideview.Fork) error {
	s, err := f.Solve(objectives.NewScorer(f.Conditions))
	if err != nil {
		return err
	}
	d := &dxf{}
	for i, st := range s.Stations() {
		drawStation(d, s, &st, i == 0)
	}
	drawPath(d, s)
	comment := fmt.Sprintf("forkfront candidate %s; 1 unit is 1 mm; concept stage, see the caution in the report", f.ID)
	if _, err := w.Write(d.bytes(comment)); err != nil {
		return fmt.Errorf("write the drawing: %w", err)
	}
	return nil
}

func drawStation(d *dxf, s *sideview.Solved, st *sideview.Station, first bool) {
	m := s.Design.Mechanism
	at := s.Places(st.State)
	for i, body := range m.Bodies {
		layer := d.layer(body+st.Suffix, 1+i%6, !first)
		for _, l := range sideview.Links(m, body) {
			d.line(layer, at[l.From], at[l.To])
		}
	}
	pins := d.layer("PIVOTS"+st.Suffix, 7, !first)
	for point, name := range m.Points {
		d.mark(pins, at[point])
		d.circle(pins, at[point], pinMM)
		if first {
			d.text(pins, sideview.XZ{X: at[point].X + 1.5*pinMM, Z: at[point].Z}, 2*pinMM, name)
		}
	}
	if m.HasShock() {
		d.line(d.layer("SHOCK"+st.Suffix, 8, !first), at[m.Point(kinematics.PointShockUpper)], at[m.Point(kinematics.PointShockLower)])
	}
	d.circle(d.layer("WHEEL"+st.Suffix, 8, !first), at[m.Point(kinematics.PointAxle)], s.Conditions.Chassis.FrontRadiusMM)
}

// drawPath draws what holds for the frame as it stands at top-out: axle path and steering axis, and
// the ground.
func drawPath(d *dxf, s *sideview.Solved) {
	top := &s.Ride.States[0]
	var path []sideview.XZ
	for i := range s.Ride.States {
		st := &s.Ride.States[i]
		path = append(path, s.Ground(top, kinematics.Vec[float64]{Along: st.Along, Ahead: st.Ahead}))
	}
	d.polyline(d.layer("AXLE_PATH", 1, false), path)
	chassis := &s.Conditions.Chassis
	seat := s.Ground(top, kinematics.Vec[float64]{})
	d.line(d.layer("STEERING_AXIS", 8, true), seat, s.Ground(top, kinematics.Vec[float64]{Along: chassis.AxleToCrownMM}))
	d.line(d.layer("GROUND", 8, false), sideview.XZ{}, sideview.XZ{X: chassis.WheelbaseMM + chassis.FrontRadiusMM})
}
