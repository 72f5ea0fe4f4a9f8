package objectives

import (
	"math"
	"strings"

	"forkfront/kinematics"
)

// unsearched is the reason of a measure that is too slow for a search.
const unsearched = "not worked out in a search"

// Slow tells that a measure is worked out by Complete alone.
func (m *Measure) Slow() bool { return m.value == nil }

// Complete adds the slow measures to the score of the design scored last: stiffness out of the plane,
// and tolerances.
func (sc *Scorer) Complete(dst *Score, d *Design) {
	s := &sc.plain
	put := func(name string, value float64, why string) {
		if i := Index(name); why != "" {
			dst.Values[i], dst.Missing[i] = 0, why
		} else if math.IsNaN(value) || math.IsInf(value, 0) {
			dst.Values[i], dst.Missing[i] = 0, notFinite
		} else {
			dst.Values[i], dst.Missing[i] = value, ""
		}
	}
	why := s.Missing[NeedStructure]
	var side, torsion float64
	if why == "" {
		var ok bool
		if side, torsion, ok = newHalfFrame(s).lateral(); !ok {
			why = "the space frame is loose out of the plane"
		}
	}
	put("lateral_stiffness_n_per_mm", side, why)
	put("torsional_stiffness_nm_per_deg", torsion, why)
	for _, t := range sc.Tolerances(d) {
		put("tolerance_"+t.Measure, t.Deviation, t.Why)
	}
}

// tolerances is what the names of tolerated measures begin with.
const tolerances = "tolerance_"

// Tolerance is how a measure scatters when every pivot and eye lies off its place by the tolerance,
// along and ahead, independently of each other.
type Tolerance struct {
	Measure   string           `json:"measure"`
	Deviation float64          `json:"deviation"` // standard deviation, first order, in the measure's unit
	Pivots    []PivotTolerance `json:"pivots,omitempty"`
	Why       string           `json:"why,omitempty"` // there is none
}

// PivotTolerance is what one point does to a measure, per mm along and ahead, and which of the two
// matters more; empty where neither does.
type PivotTolerance struct {
	Point   string  `json:"point"`
	Along   float64 `json:"along_per_mm"`
	Ahead   float64 `json:"ahead_per_mm"`
	Matters string  `json:"matters"`
}

// Tolerances differentiates the tolerated measures by the place of every point but root and axle, for
// the design scored last.
func (sc *Scorer) Tolerances(d *Design) []Tolerance {
	var all []Tolerance
	var which []int
	for i := range Measures {
		if of, is := strings.CutPrefix(Measures[i].Name, tolerances); is {
			k := Index(of)
			t := Tolerance{Measure: of, Why: sc.plain.Missing[Measures[k].Needs]}
			if sc.conditions.Structure == nil {
				t.Why = "no tolerance is given"
			}
			all = append(all, t)
			if t.Why == "" {
				which = append(which, k)
			}
		}
	}
	if len(which) == 0 {
		return all
	}
	slopes := make([]float64, len(Measures))
	direction := make([]kinematics.Vec[float64], len(d.Layout))
	for point, name := range d.Mechanism.Points {
		if name == kinematics.PointAxle || name == kinematics.PointRoot {
			continue
		}
		one := func(by kinematics.Vec[float64], put func(p *PivotTolerance, slope float64)) {
			direction[point] = by
			sc.Slope(slopes, d, direction, which)
			direction[point] = kinematics.Vec[float64]{}
			for i := range all {
				if all[i].Why == "" {
					put(&all[i].Pivots[len(all[i].Pivots)-1], slopes[Index(all[i].Measure)])
				}
			}
		}
		for i := range all {
			all[i].Pivots = append(all[i].Pivots, PivotTolerance{Point: name})
		}
		one(kinematics.Vec[float64]{Along: 1}, func(p *PivotTolerance, x float64) { p.Along = x })
		one(kinematics.Vec[float64]{Ahead: 1}, func(p *PivotTolerance, x float64) { p.Ahead = x })
	}
	for i := range all {
		all[i].sum(sc.conditions.Structure.ToleranceMM)
	}
	return all
}

// sum is the deviation of independent parts, and what matters more of each.
func (t *Tolerance) sum(mm float64) {
	square := 0.0
	for i := range t.Pivots {
		p := &t.Pivots[i]
		square += p.Along*p.Along + p.Ahead*p.Ahead
		switch along, ahead := math.Abs(p.Along), math.Abs(p.Ahead); {
		case ahead > along:
			p.Matters = "ahead"
		case along > 0:
			p.Matters = "along"
		}
	}
	t.Deviation = mm * math.Sqrt(square)
}
