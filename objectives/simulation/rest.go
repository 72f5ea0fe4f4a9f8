package simulation

import (
	"math"

	"forkfront/objectives/ride"
)

// How the rest is found.
const (
	restRounds  = 60
	restExact   = 1e-9 // m/s², rad/s²: accelerations at which the bike counts as at rest
	restProbe   = 1e-7 // m or rad, by which its equations are differenced
	largestMove = 0.02 // m or rad, by which a round may move it
	halvings    = 12
)

// rest finds where the bike stands on level ground under a steady braking force, both wheels on the ground; all
// of it then slows alike. It is false where there is no such place. The front axle is at 0.
func (m *Simulator) rest(braking float64) (s state, ok bool) {
	m.wheels = [2]wheelOn{{level, m.radius[0], 0}, {level, m.radius[1], 0}}
	s = m.guess(braking)
	unknown := coordinates - 1
	if !m.sprungRear {
		unknown--
	}
	var x, y sample
	m.forces(&x, &s, &m.wheels, braking)
	for range restRounds {
		off := unrest(&x)
		if off < restExact {
			s.at[forward] -= x.axle
			return s, x.load[0] > 0 && x.load[1] > 0
		}
		m.equations.Reset(unknown)
		for k := range unknown {
			probe := s
			probe.at[up+k] += restProbe
			m.forces(&y, &probe, &m.wheels, braking)
			probe.at[up+k] -= 2 * restProbe
			var z sample
			m.forces(&z, &probe, &m.wheels, braking)
			for i := range unknown {
				*m.equations.At(i, k) = (y.accel[up+i] - z.accel[up+i]) / (2 * restProbe)
			}
		}
		if !m.equations.Factor() {
			return s, false
		}
		move := m.move[:unknown]
		copy(move, x.accel[up:])
		m.equations.Solve(move)
		if !m.improve(&s, &x, move, off, braking) {
			return s, off < math.Sqrt(restExact) && x.load[0] > 0 && x.load[1] > 0
		}
	}
	return s, false
}

// improve moves a state against the step of Newton's method, as far as that brings it nearer to rest.
func (m *Simulator) improve(s *state, x *sample, move []float64, off, braking float64) bool {
	share := 1.0
	for _, by := range move {
		share = min(share, largestMove/math.Abs(by))
	}
	for range halvings {
		next := *s
		for i, by := range move {
			next.at[up+i] -= share * by
		}
		var y sample
		m.forces(&y, &next, &m.wheels, braking)
		if unrest(&y) < off {
			*s, *x = next, y
			return true
		}
		share /= 2
	}
	return false
}

// unrest is the largest acceleration other than that of the whole bike forward.
func unrest(x *sample) (most float64) {
	for _, a := range x.accel[up:] {
		most = max(most, math.Abs(a))
	}
	return most
}

// guess is a place near rest: at sag or where the fork is known to rest under braking, on tyres that bear the weight.
func (m *Simulator) guess(braking float64) (s state) {
	r := m.ride.Setting
	transfer := braking * r.Chassis.CGHeightMM / r.Chassis.WheelbaseMM
	frontLoad := r.FrontLoadN() + transfer
	rearLoad := m.total*ride.Gravity - frontLoad
	s.at[stroke] = r.SagMM() * perMM
	if braking > 0 {
		s.at[stroke] += ride.BrakeDive(m.ride) * perMM
	}
	if m.sprungRear {
		s.at[rearStroke] = (rearLoad - m.rear*ride.Gravity) / m.rearRate
	}
	var x sample
	m.reach(&x, &s)
	m.stand(&s, &x, m.radius[0]-frontLoad/m.tyre[0], m.radius[1]-rearLoad/m.tyre[1])
	return s
}

// stand turns and lifts the bike so that its axles have the given heights, the front one at 0 forward.
func (m *Simulator) stand(s *state, x *sample, front, rear float64) {
	a := &x.arms
	s.at[pitch] += math.Asin((front-rear)/math.Hypot(a.rx-a.qx, a.rz-a.qz)) - math.Atan2(a.rz-a.qz, a.rx-a.qx)
	m.reach(x, s)
	s.at[forward], s.at[up] = -a.rx, front-a.rz
}
