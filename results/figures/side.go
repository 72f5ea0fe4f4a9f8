package figures

import (
	"fmt"
	"image/color"
	"math"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"forkfront/kinematics"
	"forkfront/kinematics/mechanism"
	"forkfront/kinematics/scheme"
	"forkfront/kinematics/stance"
	"forkfront/objectives/naming"
	"forkfront/results/sideview"
)

// sideFigure draws a fork from the side at top-out, sag and bottom-out, all to one scale over one
// ground.
func sideFigure(s *sideview.Solved, number int) figure {
	low, high := spaceOf(s)
	const width, foot = 7.2, 0.75 // inches
	tall := width / 3 * (high.Z - low.Z) / (high.X - low.X)
	return figure{fmt.Sprintf("fork-side-%d", number), width * vg.Inch, vg.Length(tall+foot) * vg.Inch, func(c draw.Canvas) error {
		c = legend(inside(c, vg.Points(8)), bodyNames(s))
		stations := s.Stations()
		for i := range stations {
			v := newView(cell(c, 0, i, 1, len(stations), vg.Points(6)), low, high)
			v.fork(s, stations[i].State)
			v.title(fmt.Sprintf("%s, %.4g mm", []string{"top-out", "sag", "bottom-out"}[i], stations[i].State.TravelMM))
		}
		return nil
	}}
}

func bodyNames(s *sideview.Solved) []named {
	entries := heading(s.ID)
	m := s.Design.Mechanism
	for i, body := range m.Bodies {
		entries = append(entries, named{name: naming.Label(body), line: bodyLine(m, i)})
	}
	if m.HasShock() {
		entries = append(entries, named{name: "shock", line: shockLine})
	}
	return append(entries, named{name: "axle path", line: draw.LineStyle{Color: inkColour, Width: vg.Points(1)}})
}

func bodyLine(m *mechanism.Mechanism, i int) draw.LineStyle {
	if m.Bodies[i] == m.Spec.Ground {
		return draw.LineStyle{Color: softColour, Width: vg.Points(2)}
	}
	return draw.LineStyle{Color: seriesColours[i%len(seriesColours)], Width: vg.Points(2.4)}
}

// spaceOf is the corners of the space that the fork takes up over its travel.
func spaceOf(s *sideview.Solved) (low, high sideview.XZ) {
	low, high = sideview.XZ{X: math.Inf(1), Z: -45}, sideview.XZ{X: math.Inf(-1), Z: 0}
	radius := s.Conditions.Chassis.FrontRadiusMM
	axle := s.Design.Mechanism.Point(scheme.PointAxle)
	for _, st := range s.Stations() {
		at := append(s.Places(st.State), s.Ground(st.State, kinematics.Vec[float64]{Along: headTubeMM}))
		for _, p := range at {
			low.X, high.X, high.Z = math.Min(low.X, p.X), math.Max(high.X, p.X), math.Max(high.Z, p.Z)
		}
		low.X, high.X = math.Min(low.X, at[axle].X-radius), math.Max(high.X, at[axle].X+radius)
	}
	return sideview.XZ{X: low.X - 15, Z: low.Z}, sideview.XZ{X: high.X + 15, Z: high.Z + 40}
}

// headTubeMM is where the drawn head tube ends above the crown race seat. It is a symbol, not a dimension.
const headTubeMM = -128

// view maps mm over the ground to a canvas, one scale both ways.
type view struct {
	c     draw.Canvas
	low   sideview.XZ
	scale float64 // points per mm
}

func newView(c draw.Canvas, low, high sideview.XZ) *view {
	scale := math.Min(float64(c.Max.X-c.Min.X)/(high.X-low.X), float64(c.Max.Y-c.Min.Y)/(high.Z-low.Z))
	return &view{c, low, scale}
}

func (v *view) at(p sideview.XZ) vg.Point {
	return vg.Point{X: v.c.Min.X + vg.Length((p.X-v.low.X)*v.scale), Y: v.c.Min.Y + vg.Length((p.Z-v.low.Z)*v.scale)}
}

func (v *view) line(style draw.LineStyle, points ...sideview.XZ) {
	path := make([]vg.Point, len(points))
	for i, p := range points {
		path[i] = v.at(p)
	}
	v.c.StrokeLines(style, path)
}

func (v *view) circle(centre sideview.XZ, radiusMM float64, edge draw.LineStyle, fill color.Color) {
	at := v.at(centre)
	r := vg.Length(radiusMM * v.scale)
	var path vg.Path
	path.Move(vg.Point{X: at.X + r, Y: at.Y})
	path.Arc(at, r, 0, 2*math.Pi)
	path.Close()
	if fill != nil {
		v.c.SetColor(fill)
		v.c.Fill(path)
	}
	v.c.SetLineStyle(edge)
	v.c.Stroke(path)
}

func (v *view) title(text string) {
	style := letters(textSize, false)
	v.c.FillText(style, vg.Point{X: v.c.Min.X, Y: v.c.Max.Y - vg.Points(9)}, text)
}

// fork draws one state: ground, wheel, head tube, links, shock, axle path, pins and a scale.
func (v *view) fork(s *sideview.Solved, st *stance.State[float64]) {
	m := s.Design.Mechanism
	at := s.Places(st)
	fine := draw.LineStyle{Color: softColour, Width: vg.Points(0.6)}
	axle := at[m.Point(scheme.PointAxle)]
	v.line(draw.LineStyle{Color: inkColour, Width: vg.Points(0.7)}, sideview.XZ{X: v.low.X, Z: 0}, sideview.XZ{X: v.low.X + float64(v.c.Max.X-v.c.Min.X)/v.scale, Z: 0})
	v.circle(axle, s.Conditions.Chassis.FrontRadiusMM, fine, rgb(0xf4f6f6))
	on := func(along float64) sideview.XZ { return s.Ground(st, kinematics.Vec[float64]{Along: along}) }
	v.line(draw.LineStyle{Color: ruleColour, Width: vg.Length(46 * v.scale)}, on(headTubeMM), on(-6))
	v.line(draw.LineStyle{Color: softColour, Width: vg.Points(0.5), Dashes: []vg.Length{8, 2, 1, 2}}, on(headTubeMM-30), on(axisToGround(s, st)))
	if m.HasShock() {
		v.shock(at[m.Point(scheme.PointShockUpper)], at[m.Point(scheme.PointShockLower)])
	}
	for i, body := range m.Bodies {
		for _, l := range sideview.Links(m, body) {
			v.line(bodyLine(m, i), at[l.From], at[l.To])
		}
	}
	var path []sideview.XZ
	for i := range s.Ride.States {
		p := &s.Ride.States[i]
		path = append(path, s.Ground(st, kinematics.Vec[float64]{Along: p.Along, Ahead: p.Ahead}))
	}
	v.line(draw.LineStyle{Color: inkColour, Width: vg.Points(1)}, path...)
	for point, name := range m.Points {
		if name != scheme.PointRoot {
			v.circle(at[point], 6, draw.LineStyle{Color: inkColour, Width: vg.Points(0.7)}, color.White)
		}
	}
	v.scaleBar()
}

// axisToGround is how far down the frame's steering axis the ground is.
func axisToGround(s *sideview.Solved, st *stance.State[float64]) float64 {
	return s.Ground(st, kinematics.Vec[float64]{}).Z / st.SinHead
}

var shockLine = draw.LineStyle{Color: rgb(0x3c474c), Width: vg.Points(0.9)}

// shock is the zigzag of a spring about its shaft.
func (v *view) shock(upper, lower sideview.XZ) {
	style := shockLine
	dx, dz := lower.X-upper.X, lower.Z-upper.Z
	length := math.Hypot(dx, dz)
	path := []sideview.XZ{upper}
	const turns = 7
	for i := range 2 * turns {
		along := 0.16 + 0.68*(float64(i)+0.5)/(2*turns)
		side := 17.0
		if i%2 == 0 {
			side = -side
		}
		path = append(path, sideview.XZ{X: upper.X + dx*along - dz/length*side, Z: upper.Z + dz*along + dx/length*side})
	}
	v.line(style, append(path, lower)...)
	v.line(style, upper, lower)
}

func (v *view) scaleBar() {
	style := draw.LineStyle{Color: inkColour, Width: vg.Points(0.8)}
	left := sideview.XZ{X: v.low.X + 12, Z: -24}
	v.line(style, left, sideview.XZ{X: left.X + 100, Z: left.Z})
	for _, x := range []float64{left.X, left.X + 100} {
		v.line(style, sideview.XZ{X: x, Z: left.Z - 6}, sideview.XZ{X: x, Z: left.Z + 6})
	}
	at := v.at(sideview.XZ{X: left.X + 108, Z: left.Z})
	at.Y -= vg.Points(2.3)
	v.c.FillText(letters(textSize-1.5, false), at, "100 mm")
}
