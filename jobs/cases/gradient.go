package cases

import (
	"forkfront/constraints"
	"forkfront/kinematics"
	"forkfront/objectives"
)

// Gradient gives the exact derivatives of objectives and constraints.
func (p *problem) Gradient(df, dg [][]float64, x []float64) bool {
	if p.slopeless {
		return false
	}
	p.c.Gate.enter()
	defer p.c.Gate.leave()
	study := p.scored(x)
	for _, i := range p.required {
		if p.score.Missing[i] != "" {
			return false
		}
	}
	for v := range p.c.Free {
		along := p.c.direct(p.direction, v, &p.design)
		if along {
			study.Slope(p.slopes, p.direction, p.sloped)
		}
		p.column(df, dg, v, along)
		if along {
			p.uncross(dg, v, study)
		}
	}
	return true
}

// column fills one variable's column; a discrete variable's is 0.
func (p *problem) column(df, dg [][]float64, v int, along bool) {
	for i := range p.c.Goals {
		g := &p.c.Goals[i]
		df[i][v] = 0
		if along {
			df[i][v] = g.Slope(p.score.Values[g.Measure]) * p.slopes[g.Measure]
		}
	}
	dg[0][v] = 0
	if l, by := constraints.Beyond(p.c.Conditions.Structure, &p.score); along && by > 0 {
		dg[0][v] = l.Slope(&p.score) * p.slopes[l.Measure]
	}
	for i := range p.c.Limits {
		l := &p.c.Limits[i]
		dg[1+i][v] = 0
		if along && !p.c.Waived(i, p.design.Shock.Air != nil) {
			dg[1+i][v] = l.Slope(&p.score) * p.slopes[l.Measure]
		}
	}
}

// uncross adds to the limit on clearance, where it is violated, what Evaluate adds to it.
func (p *problem) uncross(dg [][]float64, v int, study objectives.Study) {
	i := p.c.LimitOn(objectives.Clearance)
	if i < 0 || !(p.c.Limits[i].Amount(&p.score) > 0) {
		return
	}
	dg[1+i][v] += study.CrossingSlope(p.direction, p.c.Limits[i].Min) / objectives.At(objectives.Clearance).Scale
}

// direct sets dst to the derivative of the layout with respect to variable v; false for a discrete one.
func (c *Case) direct(dst []kinematics.Vec[float64], v int, d *objectives.Design) bool {
	clear(dst)
	f := &c.Free[v]
	move := kinematics.Vec[float64]{}
	switch f.Kind {
	case FreeShock, FreeMaterial, FreeLane:
		return false
	case FreeAlong:
		move.Along = 1
	case FreeAhead:
		move.Ahead = 1
	case FreeShockAngle:
		from, hung, _ := c.ShockEyes()
		at, about := d.Layout[hung], d.Layout[from]
		dst[hung] = kinematics.Vec[float64]{Along: about.Ahead - at.Ahead, Ahead: at.Along - about.Along}
		return true
	}
	dst[f.Point] = move
	if from, hung, _ := c.ShockEyes(); f.Point == from && c.Polar() {
		dst[hung] = move // one eye moves with the other
	}
	return true
}
