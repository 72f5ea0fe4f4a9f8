package kinematics

import (
	"forkfront/kinematics/plane"
	"forkfront/kinematics/stance"
)

// read fills a state from the linkage, whose bodies and rates are those of travel.
func (l *linkage[T]) read(s *stance.State[T], a *stance.Attitude, travel T) {
	m := l.m
	s.TravelMM = travel
	axle := m.Hub()
	at, v := l.at(axle), l.velocity(axle)
	perMM := -plane.Inverse(v.Along)
	s.Along, s.Ahead = at.Along, at.Ahead
	s.AheadRate = v.Ahead * perMM
	stance.Stand(a, s)
	if l.m.Ball(0).Body >= 0 {
		l.steer(s, a)
	}
	s.VX = s.AheadRate*s.SinHead - s.CosHead
	s.VZ = s.AheadRate*s.CosHead + s.SinHead
	s.BrakeRate = l.rate[m.Brake()].Turn * perMM
	s.ContactVX = s.VX + s.BrakeRate*plane.Lift[T](a.Chassis.FrontRadiusMM)
	s.Drive = stance.Drive{Cos: plane.Real(l.drive.cos), Sin: plane.Real(l.drive.sin), Way: plane.Real(l.drive.way)}
	s.Pose = append(s.Pose[:0], l.pose...)
	s.Rate = plane.Resize(s.Rate, len(l.rate))
	for b := range l.rate {
		s.Rate[b] = plane.Rate[T]{At: l.rate[b].At.Times(perMM), Turn: l.rate[b].Turn * perMM}
	}
	s.SineMin = l.sineMin()
	if m.HasShock() {
		gap := l.at(m.Eye(1)).Minus(l.at(m.Eye(0)))
		closing := l.velocity(m.Eye(0)).Minus(l.velocity(m.Eye(1)))
		s.ShockMM = plane.Sqrt(gap.Dot(gap))
		s.ShockRate = closing.Dot(gap) * plane.Inverse(s.ShockMM) * perMM
	}
}

// second computes second derivatives where the linkage stands, its accelerations known; s is its state.
func (l *linkage[T]) second(s *stance.State[T], a *stance.Attitude) stance.Second[T] {
	m := l.m
	axle := m.Hub()
	v, acc := l.velocity(axle), l.acceleration(axle)
	perMM := -plane.Inverse(v.Along)
	// f'' per travel² = (f_qq + f_t · along_qq) / along_q², since t = const − along
	perSquare := perMM * perMM
	var d stance.Second[T]
	d.Ahead = (acc.Ahead + s.AheadRate*acc.Along) * perSquare
	if !a.Chassis.Level {
		d.HeadTurn = s.VZ / s.WheelbaseMM
	}
	d.VZ = s.CosHead*d.Ahead + (s.CosHead-s.AheadRate*s.SinHead)*d.HeadTurn
	brake := (l.accel[m.Brake()].Turn + s.BrakeRate*acc.Along) * perSquare
	d.ContactVX = s.SinHead*d.Ahead + (s.AheadRate*s.CosHead+s.SinHead)*d.HeadTurn + brake*plane.Lift[T](a.Chassis.FrontRadiusMM)
	if m.HasShock() {
		gap := l.at(m.Eye(1)).Minus(l.at(m.Eye(0)))
		w := l.velocity(m.Eye(1)).Minus(l.velocity(m.Eye(0)))
		accGap := l.acceleration(m.Eye(1)).Minus(l.acceleration(m.Eye(0)))
		length := s.ShockMM
		lengthQ := w.Dot(gap) / length
		lengthQQ := (accGap.Dot(gap) + w.Dot(w) - lengthQ*lengthQ) / length
		d.ShockMM = (-lengthQQ + s.ShockRate*acc.Along) * perSquare
	}
	return d
}

// steer reads the steering axis through both balls, and trail from it. Its line down from the upper
// ball is that of the fork frame turned from along to ahead by some angle, which makes the axis so
// much flatter.
func (l *linkage[T]) steer(s *stance.State[T], a *stance.Attitude) {
	lower, upper := l.at(l.m.Ball(0)), l.at(l.m.Ball(1))
	down := lower.Minus(upper)
	down = down.Times(plane.Inverse(plane.Sqrt(down.Dot(down))))
	s.SinSteer = s.SinHead*down.Along - s.CosHead*down.Ahead
	s.CosSteer = s.CosHead*down.Along + s.SinHead*down.Ahead
	s.OffsetMM = down.Cross(plane.Vec[T]{Along: s.Along, Ahead: s.Ahead}.Minus(lower))
	s.TrailMM = (plane.Lift[T](a.Chassis.FrontRadiusMM)*s.CosSteer - s.OffsetMM) * plane.Inverse(s.SinSteer)
}
