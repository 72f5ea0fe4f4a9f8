package kinematics

import (
	"math"

	"forkfront/kinematics/mechanism"
	"forkfront/kinematics/plane"
	"forkfront/kinematics/stance"
)

// parts are what a batch needs of a linkage and its chassis.
type parts struct {
	first    batchDriver
	dyads    []batchDyad
	wheel    spot
	shock    [2]spot // upper and lower eye
	sprung   bool    // has a shock
	brake    int
	fixed    int                // the ground
	root     plane.Vec[float64] // its anchor
	long     float64            // of the axle along at top-out, mm
	attitude *stance.Attitude
	link     *linkage[float64]
}

// take copies them from a linkage whose coordinates are set.
func (p *parts) take(l *linkage[float64], a *stance.Attitude) {
	m := l.m
	p.first = newBatchDriver(l)
	p.dyads = p.dyads[:0]
	for i := 1; i < len(m.Steps()); i++ {
		if m.Steps()[i].Kind == mechanism.Dyad {
			p.dyads = append(p.dyads, newBatchDyad(l, i))
		}
	}
	p.wheel = newSpot(l, m.Hub())
	if p.sprung = m.HasShock(); p.sprung {
		p.shock = [2]spot{newSpot(l, m.Eye(0)), newSpot(l, m.Eye(1))}
	}
	p.brake, p.fixed, p.root = m.Brake(), m.Ground(), l.layout[m.Anchors()[m.Ground()]]
	p.long, p.attitude, p.link = a.Chassis.AxleToCrownMM, a, l
}

// negligible is a way, in mm, that is not worth to be taken.
const negligible = 1e-11

// read fills in the states of settled samples from one on, as linkage.read does for one. Each part of
// it is a loop over all of them.
func (st *batch) read(states []stance.State[float64], first int) {
	st.perTravel(states, first)
	st.attitude.StandAll(states)
	if st.sprung {
		st.compress(states, first)
	}
	if st.link.m.Ball(0).Body >= 0 {
		st.steer(states)
	}
}

// perTravel turns rates into those per mm of travel, takes what is left of the way along them, as
// to the first order, and reads what follows only from poses and rates.
func (st *batch) perTravel(states []stance.State[float64], first int) {
	wheel, driver, brake, fixed, turns, bodies := st.wheel, st.first.body, st.brake, st.fixed, st.first.turns, st.bodies
	for i := range states {
		s, k := &states[i], first+i
		poses, rates := st.poses[k*bodies:][:bodies], st.rates[k*bodies:][:bodies]
		perMM := st.perMM[k]
		for b := range rates {
			if b == fixed {
				continue
			}
			r := &rates[b]
			r.At.Along *= perMM
			r.At.Ahead *= perMM
			r.Turn *= perMM
		}
		if off := st.off[k]; math.Abs(off) > negligible {
			advance(poses, rates, off)
		}
		axle := wheel.see(&poses[wheel.body], &rates[wheel.body])
		s.TravelMM = st.step * float64(k)
		s.Along, s.Ahead, s.AheadRate = axle.at.Along, axle.at.Ahead, axle.v.Ahead
		s.BrakeRate, s.SineMin = rates[brake].Turn, st.sines[k]
		s.Drive.Cos, s.Drive.Sin, s.Drive.Way = poses[driver].Cos, poses[driver].Sin, 0
		if !turns {
			s.Drive.Way = st.drive[k]
		}
	}
}

func advance(poses []plane.Pose[float64], rates []plane.Rate[float64], off float64) {
	for b := range poses {
		p, r := &poses[b], &rates[b]
		turn := r.Turn * off
		p.At.Along -= r.At.Along * off
		p.At.Ahead -= r.At.Ahead * off
		p.Cos, p.Sin = p.Cos+p.Sin*turn, p.Sin-p.Cos*turn
	}
}

// compress reads the shock.
func (st *batch) compress(states []stance.State[float64], first int) {
	upper, lower := st.shock[0], st.shock[1]
	a, b, poses, rates := seen{at: upper.arm}, seen{at: lower.arm}, st.poses, st.rates
	for i := range states {
		k := (first + i) * st.bodies
		if !upper.fixed {
			a = upper.see(&poses[k+upper.body], &rates[k+upper.body])
		}
		if !lower.fixed {
			b = lower.see(&poses[k+lower.body], &rates[k+lower.body])
		}
		x, y := b.at.Along-a.at.Along, b.at.Ahead-a.at.Ahead
		length := math.Sqrt(x*x + y*y)
		states[i].ShockMM = length
		states[i].ShockRate = ((a.v.Along-b.v.Along)*x + (a.v.Ahead-b.v.Ahead)*y) / length
	}
}

// steer reads the steering axis where it runs through balls.
func (st *batch) steer(states []stance.State[float64]) {
	own := st.link.pose
	for i := range states {
		st.link.pose = states[i].Pose
		st.link.steer(&states[i], st.attitude)
	}
	st.link.pose = own
}

// angles reads the transmission angle where it is not that of the driver's dyads.
func (st *batch) angles(states []stance.State[float64]) {
	own := st.link.pose
	for i := range states {
		st.link.pose = states[i].Pose
		states[i].SineMin = st.link.sineMin()
	}
	st.link.pose = own
}
