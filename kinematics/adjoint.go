package kinematics

import (
	"math"

	"forkfront/kinematics/mechanism"
	"forkfront/kinematics/plane"
	"forkfront/kinematics/stance"
)

// Adjoint finds the sensitivities of a solved state to the layout at constant travel, by virtual work,
// for mechanisms that steer about the fork frame's axis. Others than a driver and dyads it leaves to loopAdjoint. A unit
// load acts on an output of the state; a pivot that is moved on its two bodies works against the pin
// force under that load:
//
//	d output / d layout of a pin = (Tb − Ta)ᵀ force on b
//
// T turns a body from top-out to where it is. All forces carry their derivative by the travel, so the
// same load gives the sensitivity of the output's rate too. It is one worker's memory.
type Adjoint struct {
	link  *linkage[float64]
	turns []ratedTurn
	at    []ratedVec // by body: its anchor
	loads []bodyLoad
	work  []ratedVec // by point
	now   loadPoints
	rate  outputRates
	loops loopAdjoint
	dyads bool // the motion is that of a driver and dyads
}

// loadPoints is where forces act: the axle, the eyes of the shock, and the unit vector between these.
type loadPoints struct{ axle, upper, lower, line ratedVec }

// outputRates are velocities per mm of travel: of the axle ahead, the caliper's body and the shock's length.
type outputRates struct{ ahead, brake, shock rated }

// bodyLoad is the load on a body: a force, and its moment about the origin.
type bodyLoad struct {
	force  ratedVec
	moment rated
}

func (l *bodyLoad) push(force, at ratedVec) {
	l.force = l.force.plus(force)
	l.moment = l.moment.plus(at.cross(force))
}

// Sensitivity is how the numbers of a state change with the two coordinates of a point, per mm.
type Sensitivity struct{ Along, Ahead stance.Quantities }

// Set takes a motion that was swept through. It is false for a mechanism that it cannot deal with.
func (p *Adjoint) Set(mo *Motion) bool {
	m := mo.link.m
	p.link = &mo.link
	p.turns, p.at, p.loads = plane.Resize(p.turns, len(m.Bodies)), plane.Resize(p.at, len(m.Bodies)), plane.Resize(p.loads, len(m.Bodies))
	p.work = plane.Resize(p.work, len(m.Points))
	p.dyads = mo.batch.plain && m.Steps()[0].Kind == mechanism.TurnDrive && m.PlainAngles()
	return m.Ball(0).Body < 0 && (p.dyads || p.loops.set(mo))
}

// stand takes a state.
func (p *Adjoint) stand(s *stance.State[float64]) {
	if !p.dyads {
		p.loops.stand(s)
		return
	}
	l := p.link
	m := l.m
	for b := range p.at {
		q, r := &s.Pose[b], &s.Rate[b]
		p.turns[b] = ratedTurn{rated{q.Cos, -q.Sin * r.Turn}, rated{q.Sin, q.Cos * r.Turn}}
		p.at[b] = ratedVec{rated{q.At.Along, r.At.Along}, rated{q.At.Ahead, r.At.Ahead}}
	}
	l.standAs(s.Pose, s.Rate)
	l.accelerations()
	axle := l.acceleration(m.Hub())
	p.now.axle = p.place(m.Hub())
	// Rates are per mm now, so a steady drive has to be made up for by what it lets the axle gain along.
	p.rate.ahead = rated{s.AheadRate, axle.Ahead + s.AheadRate*axle.Along}
	p.rate.brake = rated{s.BrakeRate, l.accel[m.Brake()].Turn + s.BrakeRate*axle.Along}
	if m.HasShock() {
		p.now.upper, p.now.lower = p.place(m.Eye(0)), p.place(m.Eye(1))
		gap := p.now.lower.minus(p.now.upper)
		p.now.line = gap.times(rated{s.ShockMM, -s.ShockRate}.inverse())
		apart := l.acceleration(m.Eye(1)).Minus(l.acceleration(m.Eye(0)))
		drift := plane.Vec[float64]{Along: gap.along.dx, Ahead: gap.ahead.dx}
		unit := plane.Vec[float64]{Along: p.now.line.along.x, Ahead: p.now.line.ahead.x}
		second := apart.Dot(unit) + (drift.Dot(drift)-s.ShockRate*s.ShockRate)/s.ShockMM
		p.rate.shock = rated{-s.ShockRate, second - s.ShockRate*axle.Along}
	}
}

func (p *Adjoint) place(at mechanism.BodyPoint) ratedVec {
	return p.at[at.Body].plus(p.turns[at.Body].turned(p.link.offset[at.Body*len(p.link.m.Points)+at.Point]))
}

// Sensitivities gives the derivatives of the numbers of a state, one row a point.
func (p *Adjoint) Sensitivities(dst []Sensitivity, s *stance.State[float64]) {
	p.stand(s)
	one := rated{x: 1}
	p.apply(s, one, rated{}, rated{})
	for i, w := range p.work {
		dst[i] = Sensitivity{stance.Quantities{Ahead: w.along.x, AheadRate: w.along.dx}, stance.Quantities{Ahead: w.ahead.x, AheadRate: w.ahead.dx}}
	}
	p.apply(s, rated{}, one, rated{})
	for i, w := range p.work {
		dst[i].Along.BrakeRate, dst[i].Ahead.BrakeRate = w.along.dx, w.ahead.dx
	}
	if !p.link.m.HasShock() {
		return
	}
	p.apply(s, rated{}, rated{}, one)
	for i, w := range p.work {
		r := &dst[i]
		r.Along.ShockMM, r.Along.ShockRate = w.along.x, -w.along.dx
		r.Ahead.ShockMM, r.Ahead.ShockRate = w.ahead.x, -w.ahead.dx
	}
}

// Add adds the derivative of a weighted sum of the numbers of a state to dst, which has an entry a point.
func (p *Adjoint) Add(dst []plane.Vec[float64], s *stance.State[float64], w *stance.Quantities) {
	p.stand(s)
	p.apply(s, rated{w.AheadRate, w.Ahead}, rated{x: w.BrakeRate}, rated{-w.ShockRate, w.ShockMM})
	for i, w := range p.work {
		dst[i].Along += w.along.dx
		dst[i].Ahead += w.ahead.dx
	}
}

// HasSine tells whether Sine knows how it is measured.
func (p *Adjoint) HasSine() bool { return p.dyads }

// Sine gives the derivative of the smallest sine of the angle between the links of a dyad, which is the
// angle at top-out and what one link has turned against the other since. It is for mechanisms that HasSine tells.
func (p *Adjoint) Sine(dst []plane.Vec[float64], s *stance.State[float64]) {
	p.stand(s)
	l := p.link
	least, at := 2.0, 0
	for i := 1; i < len(l.m.Steps()); i++ {
		if t := &l.dyads[i]; math.Abs(t.cross)*t.scale < least {
			least, at = math.Abs(t.cross)*t.scale, i
		}
	}
	clear(dst)
	if at == 0 {
		return
	}
	t, st := &l.dyads[at], &l.m.Steps()[at]
	p.begin(l.m.Hub(), ratedVec{along: rated{x: s.Rate[st.Body[1]].Turn - s.Rate[st.Body[0]].Turn}}, p.now.axle)
	p.loads[st.Body[1]].moment.x++
	p.loads[st.Body[0]].moment.x--
	p.end()
	slope := t.link[0].Dot(t.link[1]) * t.scale * math.Copysign(1, t.cross)
	for i, w := range p.work {
		dst[i] = w.value().Times(slope)
	}
	for i, sign := range [2]float64{-slope, slope} {
		turn := t.offset[i].Quarter().Times(t.inverse[i] * sign)
		dst[st.Tip] = dst[st.Tip].Plus(turn)
		dst[st.On[i].Point] = dst[st.On[i].Point].Minus(turn)
	}
}

// begin clears the mechanism of loads but one on a point of a body.
func (p *Adjoint) begin(on mechanism.BodyPoint, force, at ratedVec) {
	clear(p.loads)
	clear(p.work)
	p.load(on, force, at)
}

// end takes all loads to the ground.
func (p *Adjoint) end() {
	m := p.link.m
	for i := len(m.Steps()) - 1; i > 0; i-- {
		p.dyad(&m.Steps()[i], &p.link.dyads[i])
	}
	p.hang(&m.Steps()[0], 0)
}

// apply loads the axle ahead, the caliper's body with a moment and the shock's eyes apart, and finds
// what every point of the layout works against, in work.
func (p *Adjoint) apply(s *stance.State[float64], ahead, turn, apart rated) {
	m := p.link.m
	if !p.dyads {
		clear(p.work)
		p.loops.apply(p.work, m, s, ahead, turn, apart)
		return
	}
	hold := p.rate.ahead.times(ahead).plus(p.rate.brake.times(turn)).plus(p.rate.shock.times(apart)) // keeps the travel
	p.begin(m.Hub(), ratedVec{hold, ahead}, p.now.axle)
	p.loads[m.Brake()].moment = p.loads[m.Brake()].moment.plus(turn)
	if apart != (rated{}) {
		force := p.now.line.times(apart)
		p.load(m.Eye(1), force, p.now.lower)
		p.load(m.Eye(0), ratedVec{}.minus(force), p.now.upper)
	}
	p.end()
}

// load puts a force on a point of a body.
func (p *Adjoint) load(on mechanism.BodyPoint, force, at ratedVec) {
	p.loads[on.Body].push(force, at)
	w := &p.work[on.Point]
	*w = w.plus(p.turns[on.Body].back(force))
}

// dyad takes the loads on both bodies of a dyad to its held pivots.
func (p *Adjoint) dyad(s *mechanism.Step, t *dyadState[float64]) {
	b0, b1 := s.Body[0], s.Body[1]
	r0 := p.turns[b0].turned(t.offset[0])
	tip := p.at[b0].plus(r0)
	r1 := tip.minus(p.at[b1])
	inverse := r0.cross(r1).inverse()
	m0, m1 := p.about(b0), p.about(b1)
	force := ratedVec{}.minus(r0.times(m1.times(inverse))).minus(r1.times(m0.times(inverse))) // as tipForce
	p.loads[b0].force = p.loads[b0].force.plus(force)
	p.loads[b1].force = p.loads[b1].force.minus(force)
	w := &p.work[s.Tip]
	*w = w.plus(p.turns[b0].minus(p.turns[b1]).back(force))
	p.hang(s, 0)
	p.hang(s, 1)
}

// about is the moment of the load on a body about its anchor.
func (p *Adjoint) about(body int) rated {
	l := &p.loads[body]
	return l.moment.minus(p.at[body].cross(l.force))
}

// hang passes the force on a body on at its held pivot, which bears no moment.
func (p *Adjoint) hang(s *mechanism.Step, i int) {
	body, on := s.Body[i], s.On[i]
	force := p.loads[body].force
	p.loads[on.Body].push(force, p.at[body])
	w := &p.work[on.Point]
	*w = w.plus(p.turns[on.Body].minus(p.turns[body]).back(force))
}
