package kinematics

import "math"

// read fills in the states of all samples, as linkage.read does for one, and turns the rates into
// those per mm of travel.
func (st *strip) read(states []State[float64], l *linkage[float64], a *attitude, step float64) {
	m, bodies := l.m, len(l.m.Bodies)
	var upper, lower spot
	shock := m.HasShock()
	if shock {
		upper, lower = newSpot(l, m.shock[0]), newSpot(l, m.shock[1])
	}
	radius := a.chassis.FrontRadiusMM
	for k := range states {
		s := &states[k]
		poses, rates := st.poses[k*bodies:(k+1)*bodies], st.rates[k*bodies:(k+1)*bodies]
		axle := &st.axles[k]
		perMM := -1 / axle.v.Along
		for b := range rates {
			r := &rates[b]
			r.At.Along *= perMM
			r.At.Ahead *= perMM
			r.Turn *= perMM
		}
		s.TravelMM = step * float64(k)
		s.Along, s.Ahead = axle.at.Along, axle.at.Ahead
		s.AheadRate = axle.v.Ahead * perMM
		a.stand(s)
		s.VX = s.AheadRate*s.SinHead - s.CosHead
		s.VZ = s.AheadRate*s.CosHead + s.SinHead
		s.BrakeRate = rates[m.brake].Turn
		s.ContactVX = s.VX + s.BrakeRate*radius
		s.SineMin = st.sines[k]
		s.Drive = Drive{poses[st.first.body].Cos, poses[st.first.body].Sin, 0}
		if !st.first.turns {
			s.Drive.Way = st.drive[k]
		}
		if shock {
			u, w := upper.see(poses, rates), lower.see(poses, rates)
			x, y := w.at.Along-u.at.Along, w.at.Ahead-u.at.Ahead
			s.ShockMM = math.Sqrt(x*x + y*y)
			s.ShockRate = ((u.v.Along-w.v.Along)*x + (u.v.Ahead-w.v.Ahead)*y) / s.ShockMM
		}
	}
	if m.balls[0].body >= 0 {
		st.steer(states, l, a)
	}
}

// steer reads the steering axis of all states where it runs through balls.
func (st *strip) steer(states []State[float64], l *linkage[float64], a *attitude) {
	own := l.pose
	for k := range states {
		l.pose = states[k].Pose
		l.steer(&states[k], a)
	}
	l.pose = own
}
