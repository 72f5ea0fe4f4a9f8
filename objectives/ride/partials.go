package ride

import "forkfront/kinematics"

// partials are how the states of the design scored last change with its layout, found once for all
// directions: a direction is then a sum over the points that it moves. Each is found when it is asked
// for. It serves mechanisms that kinematics.Adjoint deals with.
type partials struct {
	pull  kinematics.Adjoint
	apt   bool
	known bool                       // pull knows the design
	rows  [][]kinematics.Sensitivity // by state: the samples, sag, rest
	have  []bool                     // by state
	sine  partial
	ratio partial // of LeverageBandError, see there
	dive  partial // of AntiDiveBandError
	rest  goesOn
}

// partial is how one number changes with the layout: an entry a point.
type partial struct {
	by   []kinematics.Vec[float64]
	have bool
}

// goesOn is how a fork would go on from where it rests under braking.
type goesOn struct {
	have   bool
	rate   float64 // derivative of the unbalance with travel, N/mm
	onward kinematics.Quantities
	state  kinematics.State[float64]
}

// forget makes way for another design.
func (v *partials) forget() {
	v.known = false
	clear(v.have)
	v.sine.have, v.ratio.have, v.dive.have, v.rest.have = false, false, false, false
}

// learn takes the design scored last.
func (v *partials) learn(mo *kinematics.Motion, samples, points int) {
	if v.known {
		return
	}
	v.known, v.apt = true, v.pull.Set(mo)
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

// of are the rows of a state.
func (v *partials) of(i int, s *kinematics.State[float64]) []kinematics.Sensitivity {
	if !v.have[i] {
		v.pull.Sensitivities(v.rows[i], s)
		v.have[i] = true
	}
	return v.rows[i]
}

// moved is a point of the layout that a direction moves, in mm per unit.
type moved struct {
	point int
	by    kinematics.Vec[float64]
}

// along is how much a number changes along the direction at hand.
func (tr *Derivative) along(l *partial) float64 {
	sum := 0.0
	for _, m := range tr.moved {
		sum += l.by[m.point].Along*m.by.Along + l.by[m.point].Ahead*m.by.Ahead
	}
	return sum
}

// numbers is how those of a state change along the direction at hand.
func (tr *Derivative) numbers(rows []kinematics.Sensitivity) (n kinematics.Quantities) {
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
		off := band.off(ratio)
		if i == 0 || i == last {
			off /= 2
		}
		if off != 0 {
			tr.partials.pull.Add(l.by, &plain.States[i], &kinematics.Quantities{ShockRate: -off * ratio * ratio})
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
	eachOutside(tr.plain, func(weight float64, st *kinematics.State[float64], _ int) {
		contact := weight * scale / st.VZ
		n := chassis.Weights(st, contact, -contact*st.ContactVX/st.VZ)
		tr.partials.pull.Add(l.by, st, &n)
	})
	l.have = true
	return l
}
