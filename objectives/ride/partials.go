package ride

import (
	"forkfront/kinematics"
	"forkfront/kinematics/stance"
)

// partials are the partial derivatives of the states of the current design by its layout, computed once for all
// directions: a directional derivative is then a sum over the points that the direction moves. Each is computed
// when it is first read. Only mechanisms that kinematics.Adjoint supports have them.
type partials struct {
	adjoint   kinematics.Adjoint
	supported bool
	known     bool                       // adjoint is set to the design
	rows      [][]kinematics.Sensitivity // by state: the samples, sag, rest
	have      []bool                     // by state
	sine      partial
	ratio     partial // of LeverageBandError, see there
	dive      partial // of AntiDiveBandError
	rest      restRates
}

// partial is the gradient of one quantity by the layout: one entry per point.
type partial struct {
	by   []kinematics.Vec[float64]
	have bool
}

// restRates are derivatives with travel at the rest under braking.
type restRates struct {
	have       bool
	rate       float64 // derivative of the unbalance with travel, N/mm
	quantities stance.Quantities
	state      stance.State[float64]
}

// forget discards the current design.
func (v *partials) forget() {
	v.known = false
	clear(v.have)
	v.sine.have, v.ratio.have, v.dive.have, v.rest.have = false, false, false, false
}

// set prepares for the design studied last.
func (v *partials) set(mo *kinematics.Motion, samples, points int) {
	if v.known {
		return
	}
	v.known, v.supported = true, v.adjoint.Set(mo)
	if len(v.rows) != samples+2 || len(v.rows[0]) != points {
		v.rows, v.have = make([][]kinematics.Sensitivity, samples+2), make([]bool, samples+2)
		for i := range v.rows {
			v.rows[i] = make([]kinematics.Sensitivity, points)
		}
	}
	for _, l := range []*partial{&v.sine, &v.ratio, &v.dive} {
		if len(l.by) != points {
			l.by = make([]kinematics.Vec[float64], points)
		}
	}
}

// of are the sensitivities of a state, by point.
func (v *partials) of(i int, s *stance.State[float64]) []kinematics.Sensitivity {
	if !v.have[i] {
		v.adjoint.Sensitivities(v.rows[i], s)
		v.have[i] = true
	}
	return v.rows[i]
}

// displacement is a point of the layout that a direction moves, in mm per unit.
type displacement struct {
	point int
	by    kinematics.Vec[float64]
}

// along is the directional derivative of a quantity along the current direction.
func (tr *Derivative) along(l *partial) float64 {
	sum := 0.0
	for _, m := range tr.moved {
		sum += l.by[m.point].Along*m.by.Along + l.by[m.point].Ahead*m.by.Ahead
	}
	return sum
}

// quantities are the directional derivatives of those of a state along the current direction.
func (tr *Derivative) quantities(rows []kinematics.Sensitivity) (n stance.Quantities) {
	for _, m := range tr.moved {
		row := &rows[m.point]
		n.AddScaled(&row.Along, m.by.Along)
		n.AddScaled(&row.Ahead, m.by.Ahead)
	}
	return n
}

// leveragePartial is the derivative of half the sum of squares of LeverageBandError.
func (tr *Derivative) leveragePartial() *partial {
	l, plain := &tr.partials.ratio, tr.plain
	if l.have {
		return l
	}
	clear(l.by)
	band, last := plain.Setting.Leverage, len(plain.States)-1
	for i := range plain.States {
		ratio := 1 / plain.States[i].ShockRate
		off := band.deviation(ratio)
		if i == 0 || i == last {
			off /= 2
		}
		if off != 0 {
			tr.partials.adjoint.Add(l.by, &plain.States[i], &stance.Quantities{ShockRate: -off * ratio * ratio})
		}
	}
	l.have = true
	return l
}

// antiDivePartial is the derivative of half the sum of squares of AntiDiveBandError.
func (tr *Derivative) antiDivePartial() *partial {
	l := &tr.partials.dive
	if l.have {
		return l
	}
	clear(l.by)
	chassis := &tr.plain.Setting.Chassis
	scale := antiDiveScale(chassis)
	eachOutside(tr.plain, func(weight float64, st *stance.State[float64], _ int) {
		contact := weight * scale / st.VZ
		n := chassis.Weights(st, contact, -contact*st.ContactVX/st.VZ)
		tr.partials.adjoint.Add(l.by, st, &n)
	})
	l.have = true
	return l
}
