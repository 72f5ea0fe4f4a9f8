package objectives

import (
	"math"

	"forkfront/kinematics"
	"forkfront/kinematics/scheme"
)

// Tolerance is how a measure scatters when every pivot and eye lies off its place by the tolerance,
// along and ahead, independently of each other.
type Tolerance struct {
	Measure   string           `json:"measure"`
	Deviation float64          `json:"deviation"` // standard deviation, first order, in the measure's unit
	Pivots    []PivotTolerance `json:"pivots,omitempty"`
	Why       string           `json:"why,omitempty"` // there is none

	Name   string `json:"-"` // of the deviation's own measure
	of, by int    // in Measures: the deviation, and the measure that scatters
}

// PivotTolerance is what one point does to a measure, per mm along and ahead, and which of the two
// matters more; empty where neither does.
type PivotTolerance struct {
	Point   string  `json:"point"`
	Along   float64 `json:"along_per_mm"`
	Ahead   float64 `json:"ahead_per_mm"`
	Matters string  `json:"matters"`
}

// Tolerances differentiates the tolerated measures by the place of every point but root and axle.
func (st Study) Tolerances() []Tolerance {
	sc, d := of(st), st.design
	all, which := sc.tolerated()
	if len(which) == 0 {
		return all
	}
	slopes := make([]float64, len(Measures))
	direction := make([]kinematics.Vec[float64], len(d.Layout))
	for point, name := range d.Mechanism.Points {
		if name == scheme.PointAxle || name == scheme.PointRoot {
			continue
		}
		one := func(by kinematics.Vec[float64], put func(p *PivotTolerance, slope float64)) {
			direction[point] = by
			st.Slope(slopes, direction, which)
			direction[point] = kinematics.Vec[float64]{}
			for i := range all {
				if all[i].Why == "" {
					put(&all[i].Pivots[len(all[i].Pivots)-1], slopes[all[i].by])
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

// tolerated lists the measures that are tolerated, and which of them the fork has.
func (sc *scorer) tolerated() (all []Tolerance, which []int) {
	for i := range Measures {
		m := &Measures[i]
		if m.ToleranceOf == "" {
			continue
		}
		by := declared(m.ToleranceOf)
		t := Tolerance{Measure: m.ToleranceOf, Why: sc.found.missing[Measures[by].Needs], Name: m.Name, of: i, by: by}
		if sc.conditions.Structure == nil {
			t.Why = "no tolerance is given"
		}
		all = append(all, t)
		if t.Why == "" {
			which = append(which, by)
		}
	}
	return all, which
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
