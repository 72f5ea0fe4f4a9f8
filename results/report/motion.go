package report

import (
	"encoding/binary"
	"fmt"
	"math"
	"slices"

	"golang.org/x/sync/errgroup"

	"forkfront/kinematics"
	"forkfront/kinematics/mechanism"
	"forkfront/kinematics/scheme"
	"forkfront/objectives"
	"forkfront/objectives/simulation"
	"forkfront/results/picks"
	"forkfront/results/sideview"
)

// packedCase is how the candidates of a case are drawn, and the telescopic fork beside them.
type packedCase struct {
	Name       string             `json:"name"`
	Mechanism  string             `json:"mechanism,omitempty"`
	Bike       string             `json:"bike,omitempty"`
	Points     []string           `json:"points,omitempty"`
	Bodies     []packedBody       `json:"bodies,omitempty"`
	Axle       int                `json:"axle"`
	Shock      []int              `json:"shock,omitempty"` // its upper and lower eye
	ShockCount int                `json:"shock_count,omitempty"`
	Bands      [][]float64        `json:"bands,omitempty"` // wanted, by curve of the page; empty where none is
	Rear       [2]float64         `json:"rear"`            // rear axle, fork frame
	FrontMM    float64            `json:"front_mm"`        // radii of the wheels
	RearMM     float64            `json:"rear_mm"`
	TravelMM   float64            `json:"travel_mm"`
	SagMM      float64            `json:"sag_mm"`
	Telescopic []shortNumbers     `json:"telescopic,omitempty"` // by curve of the page; empty where it has none
	Baseline   map[string]float64 `json:"baseline,omitempty"`   // its measures
	Sized      map[string]float64 `json:"sized,omitempty"`      // some of them where it is sized by the rules for all forks
	Ride       *packedRide        `json:"ride,omitempty"`       // where its candidates have traces
}

type packedBody struct {
	Name   string   `json:"name"`
	Links  [][2]int `json:"links"`
	Ground bool     `json:"ground"`
}

// motions moves every candidate, on the given number of processors. With outcomes of events, the first of the suggested candidates
// are simulated too.
func (p *packed) motions(rows int, forks sideview.ForkOf, known *picks.Outcomes, processors int) ([]movement, error) {
	leads := map[int]bool{} // the first row of each case, which tells what all of it share
	for of := range p.Cases {
		leads[slices.Index(p.Case, of)] = true
	}
	picked := map[int]*packedPick{}
	for i := range p.Picks {
		picked[p.Picks[i].Row] = &p.Picks[i]
	}
	ridden := map[int]bool{} // candidates that are simulated
	for i := range p.Picks[:min(len(p.Picks), mostRidden)] {
		ridden[p.Picks[i].Row] = known.Any()
	}
	all := make([]movement, rows)
	var group errgroup.Group
	for k := range processors {
		group.Go(func() error {
			m, by := newMover(), simulation.NewSimulator()
			for row := k; row < rows; row += processors {
				s, err := m.move(&all[row], row, forks)
				if err != nil {
					return err
				}
				if leads[row] {
					p.Cases[p.Case[row]].prepare(s, m.curves)
				}
				if k := picked[row]; k != nil {
					k.gaps(s.Study.Gaps())
				}
				if ridden[row] && s.Conditions.Events != nil {
					all[row].rider, all[row].conditions = traced(row, s, by), s.Conditions
				}
			}
			return nil
		})
	}
	if err := group.Wait(); err != nil {
		return nil, err
	}
	p.branch(all)
	return all, nil
}

// branch tells candidates apart whose bodies have other links than those of their case.
func (p *packed) branch(all []movement) {
	known, of := map[string]int{}, make([]int, len(all))
	for row := range all {
		of[row] = -1
		if slices.EqualFunc(all[row].links, p.Cases[p.Case[row]].Bodies, func(l [][2]int, b packedBody) bool { return slices.Equal(l, b.Links) }) {
			continue
		}
		key := fmt.Sprint(all[row].links)
		at, met := known[key]
		if !met {
			at = len(p.Trees)
			known[key], p.Trees = at, append(p.Trees, all[row].links)
		}
		of[row] = at
	}
	if len(p.Trees) > 0 {
		p.Tree = of
	}
}

// linksOf are the links of the bodies of a mechanism.
func linksOf(m *mechanism.Mechanism) [][][2]int {
	all := make([][][2]int, len(m.Bodies))
	for i, body := range m.Bodies {
		for _, l := range sideview.Links(m, body) {
			all[i] = append(all[i], [2]int{l.From, l.To})
		}
	}
	return all
}

// movement is what one candidate adds to the motions, but for the numbers of its parts, which follow from all
// candidates before.
type movement struct {
	motion     []byte
	parts      []string
	masses     []float64
	tolerances []objectives.Tolerance
	links      [][][2]int // by body

	rider      *rider                 // of the suggested candidates that are simulated
	conditions *objectives.Conditions // of those
}

// blocks joins the bytes of the candidates of each block. They are tracks one after the other: the page's curves, then
// along and ahead of each point, then what parts.go adds.
func (p *packed) blocks(all []movement) (blocks [][]byte) {
	if len(all) == 0 {
		return nil
	}
	p.Motion = make([]int, len(all))
	for i, row := range p.motionOrder(len(all)) {
		if i%blockOf == 0 {
			blocks = append(blocks, nil)
		}
		block, m := &blocks[len(blocks)-1], &all[row]
		began := len(*block)
		*block = append(*block, m.motion...)
		*block = p.appendParts(*block, m.parts, m.masses)
		*block = p.appendTolerances(*block, m.tolerances)
		p.Motion[row] = len(*block) - began
	}
	return blocks
}

// motionOrder lists the suggested rows, then the others.
func (p *packed) motionOrder(rows int) []int {
	order, picked := make([]int, 0, rows), make([]bool, rows)
	for i := range p.Picks {
		order = append(order, p.Picks[i].Row)
		picked[p.Picks[i].Row] = true
	}
	for row := range rows {
		if !picked[row] {
			order = append(order, row)
		}
	}
	return order
}

// prepare fills in what the first candidate of a case tells of all.
func (c *packedCase) prepare(s *sideview.Solved, curves []sideview.Curve) {
	m, chassis := s.Design.Mechanism, &s.Conditions.Chassis
	rear := chassis.RearAxle()
	c.Mechanism, c.Bike, c.Points = m.Name, s.Bike, m.Points
	c.Axle, c.Rear = m.Point(scheme.PointAxle), [2]float64{rear.Along, rear.Ahead}
	c.FrontMM, c.RearMM, c.TravelMM, c.SagMM = chassis.FrontRadiusMM, chassis.RearRadiusMM, s.Conditions.TravelMM, s.Conditions.SagMM()
	if m.HasShock() {
		c.Shock = []int{m.Point(scheme.PointShockUpper), m.Point(scheme.PointShockLower)}
		c.ShockCount = s.Design.Shock.Count
	}
	links := linksOf(m)
	for i, body := range m.Bodies {
		c.Bodies = append(c.Bodies, packedBody{body, links[i], body == m.Spec.Ground})
	}
	base := s.Conditions.Baseline
	for _, k := range curves {
		var values shortNumbers
		if k.Telescopic() {
			values, _ = objectives.ReadCurve(nil, k.Of, base.Ride)
		}
		c.Telescopic = append(c.Telescopic, values)
		c.Bands = append(c.Bands, k.Band(s.Conditions))
	}
	c.Baseline = map[string]float64{}
	for i := range objectives.Measures {
		if base.Missing[i] == "" {
			c.Baseline[objectives.Measures[i].Name] = base.Values[i]
		}
	}
	c.size(s)
}

// size takes what the telescopic fork comes to where it is sized by the rules for all forks.
func (c *packedCase) size(s *sideview.Solved) {
	if s.Conditions.Structure == nil || s.Design.Material == nil {
		return
	}
	c.Sized = map[string]float64{}
	sized := s.Conditions.SizedTelescopic(s.Design.Material)
	for _, i := range objectives.TelescopicSizes {
		if sized.Missing[i] == "" {
			c.Sized[objectives.At(i).Name] = sized.Values[i]
		}
	}
}

// mover turns motions into bytes; each worker has its own.
type mover struct {
	scorers map[*objectives.Conditions]*objectives.Scorer
	curves  []sideview.Curve
	values  []float64
	places  []kinematics.Vec[float64]
}

func newMover() *mover {
	return &mover{scorers: map[*objectives.Conditions]*objectives.Scorer{}, curves: sideview.Curves()}
}

// move solves the candidate of a row. What comes back holds until the next one.
func (m *mover) move(dst *movement, row int, forks sideview.ForkOf) (*sideview.Solved, error) {
	f, err := forks(row)
	if err != nil {
		return nil, err
	}
	scorer := m.scorers[f.Conditions]
	if scorer == nil {
		scorer = objectives.NewScorer(f.Conditions)
		m.scorers[f.Conditions] = scorer
	}
	s, err := f.Solve(scorer)
	if err != nil {
		return nil, err
	}
	if dst.motion, err = m.append(nil, s); err != nil {
		return nil, err
	}
	for _, item := range s.Study.Parts() {
		if err := checkTrack(s, "mass of "+item.Part, []float64{item.MassG}, massG); err != nil {
			return nil, err
		}
		dst.parts, dst.masses = append(dst.parts, item.Part), append(dst.masses, item.MassG)
	}
	dst.tolerances, dst.links = s.Study.Tolerances(), linksOf(s.Design.Mechanism)
	return s, nil
}

// append adds the tracks of a fork. What stands in a front need not come from a search: numbers too large to
// calculate with are an error.
func (m *mover) append(dst []byte, s *sideview.Solved) ([]byte, error) {
	for _, k := range m.curves {
		m.values, _ = objectives.ReadCurve(m.values[:0], k.Of, s.Ride)
		if err := checkTrack(s, k.Of.Name, m.values, k.Of.Step); err != nil {
			return nil, err
		}
		dst = appendTrack(dst, thinned(m.values), k.Of.Step)
	}
	points := len(s.Design.Mechanism.Points)
	m.places = m.places[:0]
	for i := range s.Ride.States {
		m.places = mechanism.Positions(s.Design.Mechanism, m.places, &s.Ride.States[i], s.Design.Layout)
	}
	for point := range points {
		for _, of := range []func(kinematics.Vec[float64]) float64{along, ahead} {
			m.values = m.values[:0]
			for i := range s.Ride.States {
				m.values = append(m.values, of(m.places[i*points+point]))
			}
			if err := checkTrack(s, s.Design.Mechanism.Points[point], m.values, placeMM); err != nil {
				return nil, err
			}
			dst = appendTrack(dst, thinned(m.values), placeMM)
		}
	}
	return dst, nil
}

// thinned keeps every second value, in place, where that keeps both ends. The page reads between them with cubics, which
// at these distances are nearer than the steps of a track.
func thinned(values []float64) []float64 {
	if len(values) < 9 || len(values)%2 == 0 {
		return values
	}
	n := 0
	for i := 0; i < len(values); i += 2 {
		values[n] = values[i]
		n++
	}
	return values[:n]
}

// checkTrack refuses values that cannot be stored in whole steps.
func checkTrack(s *sideview.Solved, name string, values []float64, step float64) error {
	const most = 1 << 50
	for i, v := range values {
		if !(math.Abs(v/step) < most) {
			return fmt.Errorf("candidate %s: %s is %g at travel %.4g mm", s.ID, name, v, s.Ride.States[i].TravelMM)
		}
	}
	return nil
}

func along(v kinematics.Vec[float64]) float64 { return v.Along }
func ahead(v kinematics.Vec[float64]) float64 { return v.Ahead }

// appendTrack writes the number of values, then for each how it differs from the straight line
// through the two before it, in whole steps, as a signed varint: smooth curves take a byte a value.
func appendTrack(dst []byte, values []float64, step float64) []byte {
	dst = binary.AppendUvarint(dst, uint64(len(values)))
	var last, before int64
	for _, v := range values {
		n := int64(math.Round(v / step))
		dst = binary.AppendVarint(dst, n-2*last+before)
		before, last = last, n
	}
	return dst
}
