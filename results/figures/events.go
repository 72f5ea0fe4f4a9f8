package figures

import (
	"slices"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"forkfront/objectives/naming"
	"forkfront/objectives/simulation"
	"forkfront/results/sideview"
)

// What the figure of events shows: a column for each event, a row for each channel. Pitch counts from the beginning, when all
// forks are at sag.
var (
	shownEvents   = []int{simulation.Stop, simulation.BrakedBump}
	shownChannels = []shownChannel{
		{simulation.TraceTravelMM, "travel, mm", false},
		{simulation.TraceFrontLoadN, "front wheel load, N", false},
		{simulation.TracePitchDeg, "pitch, deg, nose up", true},
	}
)

// eventsGap is the distance between panels.
const eventsGap = vg.Length(10)

// shownEvery is which samples of a trace are drawn: 250 a second.
const shownEvery = 2

type shownChannel struct {
	of       int
	axis     string
	relative bool // to its first value
}

// timed is what is drawn of one fork.
type timed struct {
	traces *simulation.Traces
	line   draw.LineStyle
}

// eventsFigure draws forks that have been moved in a hard stop and over a bump with the brake on, beside the telescopic forks
// that they are compared with. Without events it is not drawn.
func eventsFigure(name string, shown []*sideview.Solved, first int) []figure {
	all := timedForks(shown)
	if len(all) == 0 {
		return nil
	}
	return []figure{{name, 6.8 * vg.Inch, 6.6 * vg.Inch, func(c draw.Canvas) error {
		c = legend(inside(c, vg.Points(8)), forkNames(shown, first))
		for i, event := range shownEvents {
			at := cell(c, 0, i, 1, len(shownEvents), eventsGap)
			c.FillText(letters(textSize, true), vg.Point{X: at.Min.X, Y: at.Max.Y - vg.Points(4)}, naming.Label(simulation.Events[event].Name))
		}
		c.Max.Y -= vg.Points(14)
		plots := make([][]*plot.Plot, len(shownChannels))
		for row, k := range shownChannels {
			for _, event := range shownEvents {
				p, err := eventPanel(all, event, k)
				if err != nil {
					return err
				}
				if row == len(shownChannels)-1 {
					p.X.Label.Text = "time, s"
				}
				plots[row] = append(plots[row], p)
			}
		}
		drawAligned(c, plots, eventsGap)
		return nil
	}}}
}

// timedForks simulates forks and, before them, their telescopic forks, each once.
func timedForks(shown []*sideview.Solved) (bases []timed) {
	var all []timed
	by, seen := simulation.NewSimulator(), []any{}
	for i, s := range shown {
		if s.Conditions.Events == nil {
			continue
		}
		if base := s.Conditions.Baseline.Ride; !slices.Contains(seen, any(base)) {
			seen = append(seen, base)
			bases = append(bases, timed{s.Conditions.Events.TelescopicTraces(), telescopicLine()})
		}
		traces := &simulation.Traces{}
		s.Study.Trace(by, traces, &s.Score)
		all = append(all, timed{traces, seriesLine(i)})
	}
	return append(bases, all...)
}

func eventPanel(all []timed, event int, k shownChannel) (*plot.Plot, error) {
	p := newPanel("", k.axis)
	grid := plotter.NewGrid()
	grid.Vertical.Color, grid.Horizontal.Color = nil, ruleColour
	p.Add(grid)
	for _, f := range all {
		t := &f.traces[event]
		if t.Missing != "" || t.Rows() == 0 {
			continue // the table of events has the reason
		}
		from := 0.0
		if k.relative {
			from = t.Values[k.of][0]
		}
		var points plotter.XYs
		for i := 0; i < t.Rows(); i += shownEvery {
			points = append(points, plotter.XY{X: float64(i) * simulation.TraceStepS, Y: t.Values[k.of][i] - from})
		}
		line, err := plotter.NewLine(points)
		if err != nil {
			return nil, err
		}
		line.LineStyle = f.line
		line.Width = f.line.Width * 0.8
		p.Add(line)
	}
	return p, nil
}
