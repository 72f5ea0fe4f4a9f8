package figures

import (
	"image/color"
	"math"
	"strconv"
	"strings"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// Colours that colour-blind eyes tell apart (Okabe and Ito 2008); each series has dashes or a glyph
// of its own besides.
var (
	seriesColours = []color.Color{rgb(0x0072b2), rgb(0xd55e00), rgb(0x009e73), rgb(0xcc79a7), rgb(0x8a6d00), rgb(0x56b4e9)}
	seriesDashes  = [][]vg.Length{nil, {6, 3}, {1.5, 2.5}, {7, 3, 1.5, 3}, {3, 3}, {9, 3}}
	seriesGlyphs  = []draw.GlyphDrawer{draw.CircleGlyph{}, draw.BoxGlyph{}, draw.PyramidGlyph{}, draw.RingGlyph{}, draw.SquareGlyph{}, draw.TriangleGlyph{}}
	inkColour     = rgb(0x16242b)
	softColour    = rgb(0x6b7680)
	ruleColour    = rgb(0xd5dcdb)
	bandColour    = rgb(0xe6f0d8)
)

func rgb(hex uint32) color.Color {
	return color.NRGBA{R: uint8(hex >> 16), G: uint8(hex >> 8), B: uint8(hex), A: 255}
}

// textSize is that of all letters in a figure, after papers' captions.
const textSize = 8

func letters(size vg.Length, bold bool) text.Style {
	weight := font.Font{Typeface: "Liberation", Variant: "Sans", Size: size}
	if bold {
		weight.Weight = 3 // bold; only the fonts import the package of the type
	}
	return text.Style{Color: inkColour, Font: weight, Handler: plot.DefaultTextHandler}
}

// newPanel is a plot in the figures' style: sans letters, own ticks, thin axes, a light grid, no
// legend, which stands outside.
func newPanel(xLabel, yLabel string) *plot.Plot {
	p := plot.New()
	p.BackgroundColor = color.White
	p.X.Label.Text, p.Y.Label.Text = xLabel, yLabel
	for _, a := range []*plot.Axis{&p.X, &p.Y} {
		a.Label.TextStyle.Font = letters(textSize, false).Font
		a.Tick.Label.Font = letters(textSize-1, false).Font
		a.Tick.Marker = roundTicks{4}
		a.LineStyle.Width, a.Tick.LineStyle.Width = vg.Points(0.5), vg.Points(0.5)
		a.Tick.Length, a.Padding = vg.Points(3), vg.Points(2)
	}
	return p
}

// roundTicks are at least so many ticks at round numbers, 1, 2 or 5 times a power of ten apart, and
// no more than the widest such step gives.
type roundTicks struct{ least int }

// Ticks lists them with their labels.
func (r roundTicks) Ticks(low, high float64) []plot.Tick {
	if !(high > low) {
		return []plot.Tick{{Value: low, Label: number(low)}}
	}
	var ticks []plot.Tick
	for power := math.Pow(10, math.Ceil(math.Log10(high-low))); len(ticks) < r.least; power /= 10 {
		for _, m := range []float64{5, 2, 1} {
			if ticks = multiples(low, high, m*power); len(ticks) >= r.least {
				break
			}
		}
	}
	return ticks
}

// multiples are the whole multiples of a step from low to high.
func multiples(low, high, step float64) []plot.Tick {
	var ticks []plot.Tick
	for k := math.Ceil(low/step - 1e-9); k*step <= high+1e-9*step; k++ {
		ticks = append(ticks, plot.Tick{Value: k * step, Label: number(k * step)})
	}
	return ticks
}

// number is a value as a figure writes it: six digits at most, and a minus sign that is one.
func number(v float64) string {
	return strings.ReplaceAll(strconv.FormatFloat(v+0, 'g', 6, 64), "-", "−")
}

// named is one entry of a legend: how it is drawn and what it is.
type named struct {
	name  string
	line  draw.LineStyle
	glyph draw.GlyphDrawer // nil: a line
}

// heading is the title of a legend; empty: none.
func heading(name string) []named {
	if name == "" {
		return nil
	}
	return []named{{name: name + ":", line: draw.LineStyle{Color: color.Transparent}}}
}

// legend writes entries in rows from the top left of a canvas and returns what is left below.
func legend(c draw.Canvas, entries []named) draw.Canvas {
	style := letters(textSize, false)
	x, y := c.Min.X, c.Max.Y-vg.Points(8)
	for _, e := range entries {
		width := vg.Points(26) + style.Width(e.name)
		if x+width > c.Max.X && x > c.Min.X {
			x, y = c.Min.X, y-vg.Points(12)
		}
		middle := y + vg.Points(2.5)
		if e.glyph != nil {
			c.DrawGlyph(draw.GlyphStyle{Color: e.line.Color, Radius: vg.Points(2.6), Shape: e.glyph}, vg.Point{X: x + vg.Points(8), Y: middle})
		} else {
			c.StrokeLine2(e.line, x, middle, x+vg.Points(18), middle)
		}
		c.FillText(style, vg.Point{X: x + vg.Points(22), Y: y}, e.name)
		x += width + vg.Points(12)
	}
	c.Max.Y = y - vg.Points(8)
	return c
}

// cell crops a cell of a grid, rows from the top.
func cell(c draw.Canvas, row, col, rows, cols int, gap vg.Length) draw.Canvas {
	w := (c.Max.X - c.Min.X - gap*vg.Length(cols-1)) / vg.Length(cols)
	h := (c.Max.Y - c.Min.Y - gap*vg.Length(rows-1)) / vg.Length(rows)
	left := c.Min.X + vg.Length(col)*(w+gap)
	top := c.Max.Y - vg.Length(row)*(h+gap)
	return draw.Canvas{Canvas: c.Canvas, Rectangle: vg.Rectangle{Min: vg.Point{X: left, Y: top - h}, Max: vg.Point{X: left + w, Y: top}}}
}

// drawAligned draws a grid of plots whose axes are aligned, down and across; nil leaves a cell empty.
func drawAligned(c draw.Canvas, plots [][]*plot.Plot, gap vg.Length) {
	tiles := draw.Tiles{Rows: len(plots), Cols: len(plots[0]), PadX: gap, PadY: gap}
	for i, row := range plot.Align(plots, tiles, c) {
		for k := range row {
			if plots[i][k] != nil {
				plots[i][k].Draw(row[k])
			}
		}
	}
}

// inside is a canvas without its margin.
func inside(c draw.Canvas, margin vg.Length) draw.Canvas {
	return draw.Crop(c, margin, -margin, margin, -margin)
}
