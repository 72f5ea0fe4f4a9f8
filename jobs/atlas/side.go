package atlas

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"forkfront/jobs/files"
	"forkfront/kinematics"
	"forkfront/kinematics/mechanism"
	"forkfront/kinematics/scheme"
)

// sideWide and sideHigh are the size of a sketch, in px.
const sideWide, sideHigh = 300.0, 230.0

// side is a view from the side, the front of the bike to the right, of what lies around the fork.
type side struct {
	strings.Builder
	sin, cos float64 // of the head angle
	x, z     float64 // of the picture's middle over the ground, mm
	scale    float64 // px per mm
	wheel    float64 // radius, mm
}

// at is where a point of the fork frame is in the picture.
func (v *side) at(p kinematics.Vec[float64]) (x, y float64) {
	over, up := p.Along*v.cos+p.Ahead*v.sin, -p.Along*v.sin+p.Ahead*v.cos
	return sideWide/2 + (over-v.x)*v.scale, sideHigh/2 - (up-v.z)*v.scale
}

func (v *side) line(class string, points ...kinematics.Vec[float64]) {
	fmt.Fprintf(v, `<path class="%s" d="`, class)
	for i, p := range points {
		x, y := v.at(p)
		fmt.Fprintf(v, "%c%.1f %.1f", "ML"[min(i, 1)], x, y)
	}
	v.WriteString(`"/>`)
}

func (v *side) circle(class string, at kinematics.Vec[float64], px float64) {
	x, y := v.at(at)
	fmt.Fprintf(v, `<circle class="%s" cx="%.1f" cy="%.1f" r="%.1f"/>`, class, x, y, px)
}

// sidePicture draws a sketch: the fork at top-out, with the wheel and the shock at full travel behind it.
func (e *Entry) sidePicture(s *sketch, j *files.JobFile) string {
	b := &j.Bikes[0]
	v := &side{wheel: b.FrontRadiusMM}
	v.sin, v.cos = math.Sincos(b.HeadAngleDeg * math.Pi / 180)
	v.frame(s)
	fmt.Fprintf(v, `<svg class="side" viewBox="0 0 %g %g" role="img" aria-label="sketch of %s at top-out">`, sideWide, sideHigh, e.Code)
	m := e.mechanism
	axle := m.Point(scheme.PointAxle)
	v.circle("tyre", s.points[axle], v.wheel*v.scale)
	v.circle("lifted", s.full[axle], v.wheel*v.scale)
	v.line("head", kinematics.Vec[float64]{Along: -140}, kinematics.Vec[float64]{})
	v.line("head", kinematics.Vec[float64]{}, s.points[m.Point(scheme.PointRoot)])
	for _, at := range [][]kinematics.Vec[float64]{s.full, s.points} {
		suffix := ""
		if &at[0] == &s.full[0] {
			suffix = " ghost"
		}
		for _, mb := range m.At(s.points).Members() {
			v.line(e.classOf(m.Bodies[mb.Body])+suffix, at[mb.From], at[mb.To])
		}
		for _, slide := range m.Spec.Slides {
			from, to := at[m.Point(slide.Through[0])], at[m.Point(slide.Through[1])]
			v.line("rail"+suffix, from, to)
			if p := firstOn(m, slide.Bodies[1]); p >= 0 {
				v.line(e.classOf(slide.Bodies[1])+suffix, from.Plus(to).Times(0.5), at[p])
			}
		}
		upper, lower := m.Point(scheme.PointShockUpper), m.Point(scheme.PointShockLower)
		v.line("shock thick"+suffix, at[upper], at[lower])
	}
	for i, name := range m.Points {
		if name != scheme.PointRoot && name != scheme.PointAxle {
			v.circle("pin", s.points[i], 2.6)
		}
	}
	v.line("path", s.path...)
	v.circle("axle", s.points[axle], 4.5)
	v.WriteString("</svg>")
	return v.String()
}

// frame chooses middle and scale so that the head tube, all points and the upper half of the wheel are in the picture.
func (v *side) frame(s *sketch) {
	low, high := [2]float64{math.Inf(1), math.Inf(1)}, [2]float64{math.Inf(-1), math.Inf(-1)}
	include := func(p kinematics.Vec[float64], r float64) {
		over, up := p.Along*v.cos+p.Ahead*v.sin, -p.Along*v.sin+p.Ahead*v.cos
		low = [2]float64{math.Min(low[0], over-r), math.Min(low[1], up-r)}
		high = [2]float64{math.Max(high[0], over+r), math.Max(high[1], up+r)}
	}
	for _, list := range [][]kinematics.Vec[float64]{s.points, s.full, {{Along: -140}}} {
		for _, p := range list {
			include(p, 25)
		}
	}
	include(s.path[0], v.wheel*0.75)
	v.x, v.z = (low[0]+high[0])/2, (low[1]+high[1])/2
	v.scale = math.Min(sideWide/(high[0]-low[0]), sideHigh/(high[1]-low[1]))
}

// classOf is the colour of a body.
func (e *Entry) classOf(body string) string {
	switch body {
	case e.Name(e.Ground):
		return "bar ground"
	case e.Name(e.Axle):
		return "bar leg"
	case e.Name(e.Caliper):
		return "bar carrier"
	}
	return "bar link"
}

// firstOn is the first point of a body by name, or −1.
func firstOn(m *mechanism.Mechanism, body string) int {
	return slices.IndexFunc(m.Points, func(name string) bool { return slices.Contains(m.PointBodies(m.Point(name)), body) })
}
