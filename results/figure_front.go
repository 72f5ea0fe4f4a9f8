package results

import (
	"image/color"
	"math"

	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// mostPairs is how many objectives are drawn against each other: more make the cells too small.
const mostPairs = 6

// frontFigure draws every pair of objectives, a cell each, the cases by colour and glyph.
func frontFigure(t *Table, wanted []want) figure {
	wanted = wanted[:min(len(wanted), mostPairs)]
	cells := len(wanted) - 1
	size := max(vg.Length(cells)*1.75*vg.Inch, 4.2*vg.Inch)
	return figure{"fork-front", size, size*0.86 + 0.3*vg.Inch, func(c draw.Canvas) error {
		groups := t.groups(t.Rows)
		c = legend(inside(c, vg.Points(8)), caseNames(t, groups))
		for row := range cells {
			for col := range row + 1 {
				if err := t.pairPanel(cell(c, row, col, cells, cells, vg.Points(8)), groups, wanted[col], wanted[row+1], row == cells-1, col == 0); err != nil {
					return err
				}
			}
		}
		return nil
	}}
}

func caseNames(t *Table, groups [][]int) []named {
	var entries []named
	col := t.Index("case")
	for i, members := range groups {
		name := "candidates"
		if col >= 0 {
			name = t.Series[col].Texts[members[0]]
		}
		entries = append(entries, named{name, draw.LineStyle{Color: seriesColours[i%len(seriesColours)]}, seriesGlyphs[i%len(seriesGlyphs)]})
	}
	return entries
}

// pairPanel draws one pair; names stand at the left and the foot of the grid only.
func (t *Table) pairPanel(c draw.Canvas, groups [][]int, across, up want, atFoot, atLeft bool) error {
	p := newPanel("", "")
	if atFoot {
		p.X.Label.Text = axisName(&t.Columns[across.col])
	}
	if atLeft {
		p.Y.Label.Text = axisName(&t.Columns[up.col])
	}
	p.X.Tick.Marker, p.Y.Tick.Marker = roundTicks{3}, roundTicks{3}
	for i, members := range groups {
		var points plotter.XYs
		for _, row := range members {
			x, y := t.number(across.col, row), t.number(up.col, row)
			if !math.IsNaN(x) && !math.IsNaN(y) {
				points = append(points, plotter.XY{X: x, Y: y})
			}
		}
		if len(points) == 0 {
			continue
		}
		s, err := plotter.NewScatter(points)
		if err != nil {
			return err
		}
		r, g, b, _ := seriesColours[i%len(seriesColours)].RGBA()
		s.GlyphStyle = draw.GlyphStyle{Color: color.NRGBA{uint8(r >> 8), uint8(g >> 8), uint8(b >> 8), 150}, Radius: vg.Points(1.3), Shape: seriesGlyphs[i%len(seriesGlyphs)]}
		p.Add(s)
	}
	p.Draw(c)
	return nil
}

func axisName(c *Column) string {
	if c.Unit == "" {
		return label(c)
	}
	return label(c) + ", " + c.Unit
}
