package figures

import (
	"fmt"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"forkfront/objectives"
	"forkfront/objectives/ride"
	"forkfront/results/display"
	"forkfront/results/sideview"
	"forkfront/results/table"
)

// curvesFigure draws trail, leverage, anti-dive and wheel force over the travel, one cell each, of the forks shown
// and of the telescopic forks that they are compared with.
func curvesFigure(name string, shown []*sideview.Solved, first int) figure {
	return figure{name, 6.8 * vg.Inch, 5.4 * vg.Inch, func(c draw.Canvas) error {
		c = legend(inside(c, vg.Points(8)), curveNames(shown, first))
		plots, at := [][]*plot.Plot{make([]*plot.Plot, 2), make([]*plot.Plot, 2)}, 0
		for _, curve := range sideview.Curves() {
			if curve.Of.Name == "head_angle_deg" {
				continue
			}
			p, err := curvePanel(shown, curve)
			if err != nil {
				return err
			}
			plots[at/2][at%2] = p
			at++
		}
		drawAligned(c, plots, vg.Points(12))
		return nil
	}}
}

func seriesLine(i int) draw.LineStyle {
	return draw.LineStyle{Color: seriesColours[i%len(seriesColours)], Width: vg.Points(1.4), Dashes: seriesDashes[i%len(seriesDashes)]}
}

// telescopicLine is grey and thin.
func telescopicLine() draw.LineStyle {
	return draw.LineStyle{Color: softColour, Width: vg.Points(1), Dashes: []vg.Length{3, 2}}
}

// curveNames are the entries of a figure of curves, which have targets.
func curveNames(shown []*sideview.Solved, first int) []named {
	return append(forkNames(shown, first), named{name: "target", line: draw.LineStyle{Color: bandColour, Width: vg.Points(7)}})
}

// forkNames numbers the forks as their side views are, from first.
func forkNames(shown []*sideview.Solved, first int) []named {
	var ids []string
	for _, s := range shown {
		ids = append(ids, s.ID)
	}
	common, rest := display.SplitCommon(ids)
	entries := heading(common)
	for i, id := range rest {
		entries = append(entries, named{name: fmt.Sprintf("%d: %s", first+i, id), line: seriesLine(i)})
	}
	return append(entries, named{name: "telescopic", line: telescopicLine()})
}

func curvePanel(shown []*sideview.Solved, curve sideview.Curve) (*plot.Plot, error) {
	p := newPanel("travel, mm", axisName(&table.Column{Name: curve.Of.Name, Unit: curve.Of.Unit}))
	grid := plotter.NewGrid()
	grid.Vertical.Color, grid.Horizontal.Color = nil, ruleColour
	addBand(p, shown[0], curve)
	p.Add(grid)
	drawn := map[*ride.Ride[float64]]bool{}
	for i, s := range shown {
		if base := s.Conditions.Baseline.Ride; curve.Telescopic() && !drawn[base] {
			drawn[base] = true
			if err := addCurve(p.Add, base, curve, telescopicLine()); err != nil {
				return nil, err
			}
		}
		if err := addCurve(p.Add, s.Ride, curve, seriesLine(i)); err != nil {
			return nil, err
		}
	}
	return p, nil
}

// addBand shades the band that a curve should stay in.
func addBand(p *plot.Plot, s *sideview.Solved, curve sideview.Curve) {
	of := curve.Band(s.Conditions)
	if len(of) == 0 {
		return
	}
	end := s.Conditions.TravelMM
	area, err := plotter.NewPolygon(plotter.XYs{{X: 0, Y: of[0]}, {X: end, Y: of[0]}, {X: end, Y: of[1]}, {X: 0, Y: of[1]}})
	if err != nil {
		return // a band without a finite end cannot be drawn
	}
	area.Color, area.LineStyle.Width = bandColour, 0
	p.Add(area)
}

func addCurve(add func(...plot.Plotter), s *ride.Ride[float64], curve sideview.Curve, style draw.LineStyle) error {
	values, missing := objectives.ReadCurve(nil, curve.Of, s)
	if missing != "" {
		return nil // the fork has no such curve; its reason is in the front
	}
	points := make(plotter.XYs, len(values))
	for i, v := range values {
		points[i] = plotter.XY{X: s.States[i].TravelMM, Y: v}
	}
	line, err := plotter.NewLine(points)
	if err != nil {
		return err
	}
	line.LineStyle = style
	add(line)
	return nil
}
