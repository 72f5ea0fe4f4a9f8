package results

import (
	"fmt"
	"io"

	"forkfront/kinematics"
	"forkfront/objectives"
)

// pinMM is how large pivots are drawn.
const pinMM = 4

// WriteDrawing writes the side view as DXF at 1:1 in mm, x forward and y up, the origin where the
// rear wheel touches the ground, as in the pivot table. Each body has a layer at top-out, and dashed
// ones at sag (_SAG) and bottom-out (_OUT); pivots, shock and wheel have theirs in the same way.
// AXLE_PATH is the path relative to the frame as that stands at top-out.
func (f *Fork) WriteDrawing(w io.Writer) error {
	s, err := f.solve(objectives.NewScorer(f.Conditions))
	if err != nil {
		return err
	}
	d := &dxf{}
	for i, st := range s.stations() {
		s.drawStation(d, &st, i == 0)
	}
	s.drawPath(d)
	comment := fmt.Sprintf("forkfront candidate %s; 1 unit is 1 mm; concept stage, see the caution in the report", f.ID)
	if _, err := w.Write(d.bytes(comment)); err != nil {
		return fmt.Errorf("write the drawing: %w", err)
	}
	return nil
}

func (s *solved) drawStation(d *dxf, st *station, first bool) {
	m := s.Design.Mechanism
	at := s.places(st.state)
	for i, body := range m.Bodies {
		layer := d.layer(body+st.suffix, 1+i%6, !first)
		for _, l := range links(m, body) {
			d.line(layer, at[l.from], at[l.to])
		}
	}
	pins := d.layer("PIVOTS"+st.suffix, 7, !first)
	for point, name := range m.Points {
		d.mark(pins, at[point])
		d.circle(pins, at[point], pinMM)
		if first {
			d.text(pins, XZ{at[point].X + 1.5*pinMM, at[point].Z}, 2*pinMM, name)
		}
	}
	if m.HasShock() {
		d.line(d.layer("SHOCK"+st.suffix, 8, !first), at[m.Point(kinematics.PointShockUpper)], at[m.Point(kinematics.PointShockLower)])
	}
	d.circle(d.layer("WHEEL"+st.suffix, 8, !first), at[m.Point(kinematics.PointAxle)], s.Conditions.Chassis.FrontRadiusMM)
}

// drawPath draws what holds for the frame as it stands at top-out: axle path and steering axis, and
// the ground.
func (s *solved) drawPath(d *dxf) {
	top := &s.subject.States[0]
	var path []XZ
	for i := range s.subject.States {
		st := &s.subject.States[i]
		path = append(path, s.ground(top, kinematics.Vec[float64]{Along: st.Along, Ahead: st.Ahead}))
	}
	d.polyline(d.layer("AXLE_PATH", 1, false), path)
	chassis := &s.Conditions.Chassis
	seat := s.ground(top, kinematics.Vec[float64]{})
	d.line(d.layer("STEERING_AXIS", 8, true), seat, s.ground(top, kinematics.Vec[float64]{Along: chassis.AxleToCrownMM}))
	d.line(d.layer("GROUND", 8, false), XZ{}, XZ{chassis.WheelbaseMM + chassis.FrontRadiusMM, 0})
}
