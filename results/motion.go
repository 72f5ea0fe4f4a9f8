package results

import (
	"encoding/binary"
	"fmt"
	"math"

	"forkfront/kinematics"
	"forkfront/objectives"
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
	prepared   bool
}

type packedBody struct {
	Name   string   `json:"name"`
	Links  [][2]int `json:"links"`
	Ground bool     `json:"ground"`
}

// motions moves every candidate. Its bytes are tracks one after the other: the page's curves, then
// along and ahead of each point, then what parts.go adds.
func (p *packed) motions(rows int, forks ForkOf) ([]byte, error) {
	var all []byte
	scorers := map[*objectives.Conditions]*objectives.Scorer{}
	m := &mover{}
	m.curves, _ = pageCurves()
	m.steps = p.Curves
	picked := map[int]*packedPick{}
	for i := range p.Picks {
		picked[p.Picks[i].Row] = &p.Picks[i]
	}
	for row := range rows {
		f, err := forks(row)
		if err != nil {
			return nil, err
		}
		if scorers[f.Conditions] == nil {
			scorers[f.Conditions] = objectives.NewScorer(f.Conditions)
		}
		scorer := scorers[f.Conditions]
		s, err := f.solve(scorer)
		if err != nil {
			return nil, err
		}
		if c := p.Cases[p.Case[row]]; !c.prepared {
			c.prepare(s, m.curves)
		}
		began := len(all)
		all = m.append(all, s)
		all = p.appendParts(all, s)
		all = p.appendTolerances(all, scorer.Tolerances(&f.Design))
		p.Motion = append(p.Motion, len(all)-began)
		if k := picked[row]; k != nil {
			k.gaps(scorer.Gaps())
		}
	}
	return all, nil
}

// prepare fills in what the first candidate of a case tells of all.
func (c *packedCase) prepare(s *solved, curves []int) {
	m, chassis := s.Design.Mechanism, &s.Conditions.Chassis
	rear := chassis.Rear()
	c.prepared, c.Mechanism, c.Bike, c.Points = true, m.Name, s.Bike, m.Points
	c.Axle, c.Rear = m.Point(kinematics.PointAxle), [2]float64{rear.Along, rear.Ahead}
	c.FrontMM, c.RearMM, c.TravelMM, c.SagMM = chassis.FrontRadiusMM, chassis.RearRadiusMM, s.Conditions.TravelMM, s.Conditions.SagMM()
	if m.HasShock() {
		c.Shock = []int{m.Point(kinematics.PointShockUpper), m.Point(kinematics.PointShockLower)}
		c.ShockCount = s.Design.Shock.Count
	}
	for _, body := range m.Bodies {
		b := packedBody{Name: body, Ground: body == m.Spec.Ground}
		for _, l := range links(m, body) {
			b.Links = append(b.Links, [2]int{l.from, l.to})
		}
		c.Bodies = append(c.Bodies, b)
	}
	base := &s.Conditions.Baseline
	for _, i := range curves {
		var values shortNumbers
		if telescopicHas(i) {
			values, _ = objectives.ReadCurve(nil, &objectives.Curves[i], base.Subject)
		}
		c.Telescopic = append(c.Telescopic, values)
		c.Bands = append(c.Bands, band(s.Conditions, objectives.Curves[i].Name))
	}
	c.Baseline = map[string]float64{}
	for i := range objectives.Measures {
		if base.Missing[i] == "" {
			c.Baseline[objectives.Measures[i].Name] = base.Values[i]
		}
	}
}

// band is where a curve is wanted to be: what the band errors are measured from.
func band(c *objectives.Conditions, curve string) []float64 {
	switch curve {
	case "leverage_ratio":
		return []float64{c.Leverage.Low, c.Leverage.High}
	case "anti_dive_pct":
		return []float64{c.AntiDive.Low, c.AntiDive.High}
	}
	return []float64{}
}

// telescopicHas tells whether a curve means something for the telescopic fork: its spring goes with
// the axle, so that it has no leverage to speak of.
func telescopicHas(curve int) bool { return objectives.Curves[curve].Name != "leverage_ratio" }

// mover turns motions into bytes.
type mover struct {
	curves []int
	steps  []packedCurve
	values []float64
	places []kinematics.Vec[float64]
}

func (m *mover) append(dst []byte, s *solved) []byte {
	for k, i := range m.curves {
		m.values, _ = objectives.ReadCurve(m.values[:0], &objectives.Curves[i], s.subject)
		dst = appendTrack(dst, m.values, m.steps[k].Step)
	}
	points := len(s.Design.Mechanism.Points)
	m.places = m.places[:0]
	for i := range s.subject.States {
		m.places = s.Design.Mechanism.Places(m.places, &s.subject.States[i], s.Design.Layout)
	}
	for point := range points {
		for _, of := range []func(kinematics.Vec[float64]) float64{along, ahead} {
			m.values = m.values[:0]
			for i := range s.subject.States {
				m.values = append(m.values, of(m.places[i*points+point]))
			}
			dst = appendTrack(dst, m.values, placeMM)
		}
	}
	return dst
}

func along(v kinematics.Vec[float64]) float64 { return v.Along }
func ahead(v kinematics.Vec[float64]) float64 { return v.Ahead }

// appendTrack writes the number of values, then for each how it differs from the straight line
// through the two before it, in whole steps, as a signed varint: smooth curves take a byte a value.
func appendTrack(dst []byte, values []float64, step float64) []byte {
	dst = binary.AppendUvarint(dst, uint64(len(values)))
	var last, before int64
	for _, v := range values {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			panic(fmt.Sprintf("results: a curve holds %v", v)) // a solved fork has none
		}
		n := int64(math.Round(v / step))
		dst = binary.AppendVarint(dst, n-2*last+before)
		before, last = last, n
	}
	return dst
}
