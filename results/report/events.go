package report

import (
	"math"
	"slices"

	"forkfront/objectives"
	"forkfront/objectives/naming"
	"forkfront/objectives/quarter"
	"forkfront/objectives/simulation"
	"forkfront/results/picks"
	"forkfront/results/sideview"
)

// packedEvents are the events of the suggested candidates. Their traces are tracks of one block, one after the other: of each
// of Forks, of each event, of each channel.
type packedEvents struct {
	Events     []packedEvent    `json:"events"`
	Quantities []packedQuantity `json:"quantities"`
	Channels   []packedChannel  `json:"channels"`
	StepS      float64          `json:"step_s"`
	Grip       int              `json:"grip"` // the quantity by which Worse goes
	Forks      []packedRider    `json:"forks"`
}

type packedEvent struct {
	Name  string  `json:"name"`
	Label string  `json:"label"`
	Doc   string  `json:"doc"`
	Has   []int   `json:"has"`    // in Quantities
	FromS float64 `json:"from_s"` // time of the first sample
}

type packedQuantity struct {
	Label  string `json:"label"`
	Unit   string `json:"unit"`
	Doc    string `json:"doc"`
	Better int    `json:"better"` // 1: low is better, 0: neither
}

type packedChannel struct {
	Name string  `json:"name"`
	Step float64 `json:"step"`
}

// packedRider is a candidate, or the telescopic fork of a case, with what it did.
type packedRider struct {
	Row     int            `json:"row"` // of the candidate; −1: the telescopic fork
	Case    int            `json:"case"`
	Missing []string       `json:"missing"`          // by event: why it has no trace
	Values  []shortNumbers `json:"values,omitempty"` // by event and by quantity of it; none where nothing is known
	Worse   []int          `json:"worse"`            // events in which it grips worse than the telescopic fork
	Needs   shortNumbers   `json:"needs,omitempty"`  // damping coefficient of each shock, N·s/m: at sag, then over the travel after top-out
}

// packedRide is what a case's events share.
type packedRide struct {
	Roads   [][2]shortNumbers `json:"roads"`   // by event: along and up, m
	Rebound float64           `json:"rebound"` // damping in rebound over that in compression
	Dampers []packedDamper    `json:"dampers,omitempty"`
	Chord   float64           `json:"chord_m_per_s"` // speed at which the coefficient of a curve is read
}

// packedDamper is one on sale.
type packedDamper struct {
	Name        string       `json:"name"`
	Compression [2]float64   `json:"compression"`
	Rebound     [2]float64   `json:"rebound"`
	Curve       [][2]float64 `json:"curve,omitempty"` // speeds in m/s and forces, of which the shape counts; none: in proportion to speed
}

// mostRidden is how many candidates have traces in the page: each takes some 15 kB of it.
const mostRidden = 40

// shownChannels are those of the page: what it draws and moves.
var shownChannels = []int{
	simulation.TraceTravelMM, simulation.TraceFrontLoadN, simulation.TracePitchDeg, simulation.TraceHandForward, simulation.TraceHandUp,
	simulation.TraceShaftMPerS, simulation.TraceFrontAxleMM, simulation.TraceRearAxleMM, simulation.TraceRearTravelMM,
}

const (
	shownEvery         = 2 // samples of a trace: 250 a second
	roughFrom, roughTo = 1.0, 3.0
)

// window are the samples of an event that the page shows.
func window(event, rows int) (from, to int) {
	if event == simulation.RoughRoad {
		from, to = int(roughFrom/simulation.TraceStepS), int(roughTo/simulation.TraceStepS)
	} else {
		to = rows
	}
	return min(from, rows), min(to, rows)
}

// rider is one fork's traces as tracks.
type rider struct {
	packedRider
	tracks []byte
}

// ridden takes the traces of a fork.
func ridden(row int, traces *simulation.Traces) *rider {
	r := &rider{packedRider: packedRider{Row: row, Worse: []int{}}}
	var values []float64
	for i := range traces {
		t := &traces[i]
		r.Missing = append(r.Missing, t.Missing)
		from, to := window(i, t.Rows())
		if t.Missing != "" {
			from, to = 0, 0
		}
		for _, k := range shownChannels {
			values = values[:0]
			for at := from; at < to; at += shownEvery {
				values = append(values, t.Values[k][at])
			}
			r.tracks = appendTrack(r.tracks, values, simulation.Channels[k].Step)
		}
	}
	return r
}

// traced simulates a candidate that has been solved.
func traced(row int, s *sideview.Solved, by *simulation.Simulator) *rider {
	traces := &simulation.Traces{}
	s.Study.Trace(by, traces, &s.Score)
	r := ridden(row, traces)
	if over := s.Study.Dampers(); over != nil {
		r.Needs = append(shortNumbers{s.Score.Values[objectives.Index("damper_coefficient_ns_per_m")]}, over...)
	}
	return r
}

// events packs what the riders did, those with the smaller rows first, behind the telescopic forks of their cases.
func (p *packed) events(riders []*rider, conditions map[int]*objectives.Conditions, known *picks.Outcomes) (block []byte) {
	if len(riders) == 0 {
		return nil
	}
	e := &packedEvents{Grip: simulation.LoadPct, StepS: shownEvery * simulation.TraceStepS, Quantities: packedQuantities()}
	for i := range simulation.Events {
		from := 0.0
		if i == simulation.RoughRoad {
			from = roughFrom
		}
		of := &simulation.Events[i]
		e.Events = append(e.Events, packedEvent{of.Name, naming.Label(of.Name), of.Doc, of.Has, from})
	}
	for _, k := range shownChannels {
		e.Channels = append(e.Channels, packedChannel{simulation.Channels[k].Name, simulation.Channels[k].Step})
	}
	slices.SortFunc(riders, func(a, b *rider) int { return a.Row - b.Row })
	bases := map[int]bool{}
	for _, r := range riders {
		r.Case = p.Case[r.Row]
		own, telescopic := known.Of(p.IDs[r.Row])
		if !bases[r.Case] {
			bases[r.Case] = true
			c := conditions[r.Case]
			p.Cases[r.Case].Ride = rideOf(c)
			base := ridden(-1, c.Events.TelescopicTraces())
			base.Case, base.Values = r.Case, valuesOf(telescopic)
			e.Forks, block = append(e.Forks, base.packedRider), append(block, base.tracks...)
		}
		r.Values = valuesOf(own)
		for i := range simulation.Events {
			if own != nil && telescopic != nil && own.LoadWorse(telescopic, i) {
				r.Worse = append(r.Worse, i)
			}
		}
		e.Forks, block = append(e.Forks, r.packedRider), append(block, r.tracks...)
	}
	p.Events = e
	return block
}

func packedQuantities() (all []packedQuantity) {
	for i := range simulation.Quantities {
		q := &simulation.Quantities[i]
		one := packedQuantity{Label: naming.Label(q.Name), Unit: q.Unit, Doc: q.Doc}
		if q.Low {
			one.Better = 1
		}
		all = append(all, one)
	}
	return all
}

// valuesOf are the quantities of each event, NaN where there is none.
func valuesOf(r *simulation.Results) (all []shortNumbers) {
	if r == nil {
		return nil
	}
	for i := range r {
		var of shortNumbers
		for _, q := range simulation.Events[i].Has {
			if r[i].Known(q) == "" {
				of = append(of, r[i].Values[q])
			} else {
				of = append(of, math.NaN())
			}
		}
		all = append(all, of)
	}
	return all
}

// roadEvery is the distance between points of a rough road that the page draws, in those of the road.
const roadEvery = 5

func rideOf(c *objectives.Conditions) *packedRide {
	r := &packedRide{Rebound: c.Quarter.ReboundPerCompression, Chord: quarter.ChordMPerS}
	for i := range simulation.Events {
		x, z := c.Events.Plan().Road(i)
		every := 1
		if i == simulation.RoughRoad {
			every = roadEvery
		}
		var road [2]shortNumbers
		for k := 0; k < len(x); k += every {
			road[0], road[1] = append(road[0], x[k]), append(road[1], z[k])
		}
		r.Roads = append(r.Roads, road)
	}
	for i := range c.Quarter.Dampers {
		d := &c.Quarter.Dampers[i]
		one := packedDamper{Name: d.Name, Compression: [2]float64{d.Compression.Low, d.Compression.High}, Rebound: [2]float64{d.Rebound.Low, d.Rebound.High}}
		if d.Curve != nil {
			for _, p := range d.Curve.Points() {
				one.Curve = append(one.Curve, [2]float64{p.SpeedMPerS, p.ForceN})
			}
		}
		r.Dampers = append(r.Dampers, one)
	}
	return r
}
