// Package cad exchanges a fork with CAD: it writes a side view in DXF and a table of the pivots, and reads the pivots
// back out of either.
package cad

import (
	"fmt"
	"io"
	"math"

	"forkfront/kinematics"
	"forkfront/kinematics/scheme"
	"forkfront/objectives"
	"forkfront/objectives/fork"
	"forkfront/results/sideview"
)

// pinMM is how large pivots are drawn.
const pinMM = 4

// WriteDrawing writes the side view of a fork as DXF of release 2000 at 1:1 in mm, x forward and y up, the origin where
// the rear wheel touches the ground, as in the pivot table. Each body has a layer at top-out, and dashed ones at sag
// (_SAG) and bottom-out (_OUT), and so has the wheel; of a fork that stops short, only where it stops (_STOP). Each pivot has a layer of its own at top-out, PIVOT_ and its name,
// by which ReadDrawing finds it. AXLE_PATH is the path relative to the frame as that stands at top-out.
func WriteDrawing(w io.Writer, f *sideview.Fork) error { return writeDrawing(w, f, release2000) }

// WriteDrawing12 writes the same in release 12, which has neither units nor dimensions: their lines and numbers only.
func WriteDrawing12(w io.Writer, f *sideview.Fork) error { return writeDrawing(w, f, release12) }

func writeDrawing(w io.Writer, f *sideview.Fork, r release) error {
	s, err := f.SolveReached(objectives.NewScorer(f.Conditions))
	if err != nil {
		return err
	}
	title := fmt.Sprintf("forkfront candidate %s; 1 unit is 1 mm; concept stage, see the caution in the report", f.ID)
	if s.Stopped != "" {
		title += "; " + s.Stopped
	}
	d := newDXF(r, title)
	stations := s.Reached()
	drawPivots(d, s)
	for i := range stations {
		drawStation(d, s, &stations[i], i == 0)
	}
	drawFrame(d, s)
	drawLengths(d, s)
	if _, err := w.Write(d.bytes()); err != nil {
		return fmt.Errorf("write the drawing: %w", err)
	}
	return nil
}

// pivotLayers are the layers of a mechanism's points, which must be a drawing's first.
func pivotLayers(d *dxf, points []string) (layers []string) {
	for _, name := range points {
		layers = append(layers, d.layer("PIVOT_"+name, 7, false))
	}
	return layers
}

// drawPivots draws the pivots at top-out, each with its name.
func drawPivots(d *dxf, s *sideview.Solved) {
	m := s.Design.Mechanism
	at := s.Places(&s.Ride.States[0])
	for point, layer := range pivotLayers(d, m.Points) {
		d.mark(layer, at[point])
		d.circle(layer, at[point], pinMM)
		d.text(layer, sideview.XZ{X: at[point].X + 1.5*pinMM, Z: at[point].Z}, 2*pinMM, 0, false, m.Points[point])
	}
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
	if !first {
		pins := d.layer("PIVOTS"+st.Suffix, 7, true)
		for point := range m.Points {
			d.mark(pins, at[point])
			d.circle(pins, at[point], pinMM)
		}
	}
	if m.HasShock() {
		d.line(d.layer("SHOCK"+st.Suffix, 8, !first), at[m.Point(scheme.PointShockUpper)], at[m.Point(scheme.PointShockLower)])
	}
	d.circle(d.layer("WHEEL"+st.Suffix, 8, !first), at[m.Point(scheme.PointAxle)], s.Conditions.Chassis.FrontRadiusMM)
}

// drawFrame draws what holds for the frame as it stands at top-out: axle path and steering axis, the tubes that the
// package has, the tyre's inner edge, and the ground under the wheel.
func drawFrame(d *dxf, s *sideview.Solved) {
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
	axle := path[0]
	if room := s.Design.Assembly; room != nil && room.Package != nil {
		layer := d.layer("FRAME", 8, false)
		for _, part := range [][]fork.Capsule{room.Package.Frame, room.Package.Steered} {
			for i := range part {
				drawTube(d, s, layer, &part[i])
			}
		}
		if inner := chassis.FrontRadiusMM - room.Package.TyreWidthMM; inner > 0 {
			d.circle(d.layer("TYRE", 8, false), axle, inner)
		}
	}
	reach := chassis.FrontRadiusMM / 2
	d.line(d.layer("GROUND", 8, false), sideview.XZ{X: axle.X - reach}, sideview.XZ{X: axle.X + reach})
}

// drawTube draws the outline of a tube with square ends; one that lies across the side view is a circle.
func drawTube(d *dxf, s *sideview.Solved, layer string, c *fork.Capsule) {
	top := &s.Ride.States[0]
	from := s.Ground(top, kinematics.Vec[float64]{Along: c.Ends[0].Along, Ahead: c.Ends[0].Ahead})
	to := s.Ground(top, kinematics.Vec[float64]{Along: c.Ends[1].Along, Ahead: c.Ends[1].Ahead})
	length := math.Hypot(to.X-from.X, to.Z-from.Z)
	if length == 0 {
		d.circle(layer, from, c.RadiusMM)
		return
	}
	off := sideview.XZ{X: -(to.Z - from.Z) / length * c.RadiusMM, Z: (to.X - from.X) / length * c.RadiusMM}
	corners := []sideview.XZ{{X: from.X + off.X, Z: from.Z + off.Z}, {X: to.X + off.X, Z: to.Z + off.Z}, {X: to.X - off.X, Z: to.Z - off.Z}, {X: from.X - off.X, Z: from.Z - off.Z}}
	for i := range corners {
		d.line(layer, corners[i], corners[(i+1)%len(corners)])
	}
}

// drawLengths puts dimensions on the links between pivots and on the shock, at top-out.
func drawLengths(d *dxf, s *sideview.Solved) {
	m := s.Design.Mechanism
	at := s.Places(&s.Ride.States[0])
	layer := d.layer("DIMENSIONS", 9, false)
	for _, body := range m.Bodies {
		for _, l := range sideview.Links(m, body) {
			d.dimension(layer, at[l.From], at[l.To])
		}
	}
	if m.HasShock() {
		d.dimension(layer, at[m.Point(scheme.PointShockUpper)], at[m.Point(scheme.PointShockLower)])
	}
}
