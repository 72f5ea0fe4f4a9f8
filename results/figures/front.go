package figures

import (
	"cmp"
	"image/color"
	"math"
	"slices"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"forkfront/results/display"
	"forkfront/results/picks"
	"forkfront/results/table"
)

// mostPairs is how many objectives are drawn against each other: more make the cells too small.
const mostPairs = 6

// frontFigure draws every pair of objectives, one cell each, with the cases distinguished by colour and glyph.
func frontFigure(name string, t *table.Table, criteria []picks.Criterion, setting string) figure {
	criteria = criteria[:min(len(criteria), mostPairs)]
	cells := len(criteria) - 1
	size := max(vg.Length(cells)*1.75*vg.Inch, 4.2*vg.Inch)
	return figure{name, size, size*0.86 + 0.3*vg.Inch, func(c draw.Canvas) error {
		by := groupColumn(t)
		groups := t.Groups(t.All(), by)
		c = legend(inside(c, vg.Points(8)), groupNames(setting, t, by, groups))
		plots := make([][]*plot.Plot, cells)
		for row := range plots {
			plots[row] = make([]*plot.Plot, cells)
			for col := range row + 1 {
				p, err := pairPanel(t, groups, criteria[col], criteria[row+1], row == cells-1, col == 0)
				if err != nil {
					return err
				}
				plots[row][col] = p
			}
		}
		drawAligned(c, plots, vg.Points(8))
		return nil
	}}
}

// groupColumn is the column that colours and glyphs distinguish: the case, or, where there are more cases than
// colours, the mechanism.
func groupColumn(t *table.Table) string {
	if t.Index("mechanism") >= 0 && len(t.Groups(t.All(), "case")) > len(seriesColours) {
		return "mechanism"
	}
	return "case"
}

// groupNames are headed by the setting, or by what all groups have in common.
func groupNames(setting string, t *table.Table, by string, groups [][]int) []named {
	col := t.Index(by)
	names := []string{"candidates"}
	if col >= 0 {
		names = nil
		for _, members := range groups {
			names = append(names, t.Series[col].Texts[members[0]])
		}
	}
	common, rest := display.SplitCommon(names)
	entries := heading(cmp.Or(common, setting))
	for i, name := range rest {
		entries = append(entries, named{name, draw.LineStyle{Color: seriesColours[i%len(seriesColours)]}, seriesGlyphs[i%len(seriesGlyphs)]})
	}
	return entries
}

// pairPanel draws one pair; axis names are only at the left and the bottom of the grid.
func pairPanel(t *table.Table, groups [][]int, across, up picks.Criterion, atFoot, atLeft bool) (*plot.Plot, error) {
	p := newPanel("", "")
	if atFoot {
		p.X.Label.Text = across.Title(t)
	}
	if atLeft {
		p.Y.Label.Text = up.Title(t)
	}
	p.X.Tick.Marker, p.Y.Tick.Marker = roundTicks{3}, roundTicks{3}
	var points plotter.XYs
	var styles []draw.GlyphStyle
	for _, at := range mixed(groups) {
		x, y := t.Number(across.Column, at.row), t.Number(up.Column, at.row)
		if !math.IsNaN(x) && !math.IsNaN(y) {
			points, styles = append(points, plotter.XY{X: x, Y: y}), append(styles, glyph(at.group))
		}
	}
	if len(points) == 0 {
		return p, nil
	}
	s, err := plotter.NewScatter(points)
	if err != nil {
		return nil, err
	}
	s.GlyphStyleFunc = func(i int) draw.GlyphStyle { return styles[i] }
	p.Add(s)
	return p, nil
}

func glyph(group int) draw.GlyphStyle {
	r, g, b, _ := seriesColours[group%len(seriesColours)].RGBA()
	return draw.GlyphStyle{Color: color.NRGBA{uint8(r >> 8), uint8(g >> 8), uint8(b >> 8), 150}, Radius: vg.Points(1.3), Shape: seriesGlyphs[group%len(seriesGlyphs)]}
}

// grouped is a row and its group.
type grouped struct{ row, group int }

// mixed takes a row of every group in turn, in proportion to their sizes, so that no group lies on top of
// the others.
func mixed(groups [][]int) []grouped {
	var all []grouped
	place := map[grouped]float64{}
	for i, members := range groups {
		for k, row := range members {
			at := grouped{row, i}
			all, place[at] = append(all, at), (float64(k)+0.5)/float64(len(members))
		}
	}
	slices.SortStableFunc(all, func(a, b grouped) int { return cmp.Compare(place[a], place[b]) })
	return all
}

func axisName(c *table.Column) string {
	if c.Unit == "" {
		return c.Label()
	}
	return c.Label() + ", " + c.Unit
}
