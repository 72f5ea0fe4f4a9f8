package kinematics

import "forkfront/kinematics/plane"

// State is a fork at one travel. Rates are per mm of travel; velocities are relative to the frame
// and lie in the ground frame at the current head angle.
type State[T plane.Scalar] struct {
	TravelMM         T
	Along, Ahead     T // axle in the fork frame, mm
	AheadRate        T // d ahead / d travel
	SinHead, CosHead T // of the head angle
	SinSteer         T // of the steering axis' angle; the head angle's unless it runs through balls
	CosSteer         T
	OffsetMM         T // axle ahead of the steering axis
	TrailMM          T
	WheelbaseMM      T
	VX, VZ           T // axle velocity, forward and up
	BrakeRate        T // angular rate of the caliper's body, rad/mm, positive from along to ahead
	ContactVX        T // forward velocity of the contact point, the wheel locked to the caliper's body
	ShockMM          T // length of the shock between its eyes
	ShockRate        T // compression per mm of travel
	SineMin          T // sine of the smallest angle between the two links of any dyad; 1 without dyads
	Drive            Drive
	Pose             []plane.Pose[T] // by body
	Rate             []plane.Rate[T] // by body
}

// Second holds second derivatives per mm of travel squared, at one state.
type Second[T plane.Scalar] struct {
	Ahead     T // d² ahead / d travel²
	VZ        T // d VZ / d travel, the turning of the head angle included
	ShockMM   T // d² compression / d travel²
	HeadTurn  T // d head angle / d travel, rad/mm
	ContactVX T // d ContactVX / d travel
}

// Lift takes over plain second derivatives, without derivatives of their own.
func (d *Second[T]) Lift(from *Second[float64]) {
	d.Ahead, d.VZ, d.ShockMM = plane.Lift[T](from.Ahead), plane.Lift[T](from.VZ), plane.Lift[T](from.ShockMM)
	d.HeadTurn, d.ContactVX = plane.Lift[T](from.HeadTurn), plane.Lift[T](from.ContactVX)
}

// Copy takes over all of another state; the two share no memory.
func (s *State[T]) Copy(from *State[T]) {
	pose, rate := s.Pose[:0], s.Rate[:0]
	*s = *from
	s.Pose, s.Rate = append(pose, from.Pose...), append(rate, from.Rate...)
}

// HeadAngle is the angle of the steering axis from the ground, rear side, in radians.
func (s *State[T]) HeadAngle() T { return plane.Atan2(s.SinHead, s.CosHead) }

// read fills a state from the linkage, whose bodies and rates are those of travel.
func (l *linkage[T]) read(s *State[T], a *attitude, travel T) {
	m := l.m
	s.TravelMM = travel
	axle := bodyPoint{m.wheel, m.axle}
	at, v := l.at(axle), l.velocity(axle)
	perMM := -plane.Inverse(v.Along)
	s.Along, s.Ahead = at.Along, at.Ahead
	s.AheadRate = v.Ahead * perMM
	stand(a, s)
	if l.m.balls[0].body >= 0 {
		l.steer(s, a)
	}
	s.VX = s.AheadRate*s.SinHead - s.CosHead
	s.VZ = s.AheadRate*s.CosHead + s.SinHead
	s.BrakeRate = l.rate[m.brake].Turn * perMM
	s.ContactVX = s.VX + s.BrakeRate*plane.Lift[T](a.chassis.FrontRadiusMM)
	s.Drive = Drive{plane.Real(l.drive.cos), plane.Real(l.drive.sin), plane.Real(l.drive.way)}
	s.Pose = append(s.Pose[:0], l.pose...)
	s.Rate = plane.Resize(s.Rate, len(l.rate))
	for b := range l.rate {
		s.Rate[b] = plane.Rate[T]{At: l.rate[b].At.Times(perMM), Turn: l.rate[b].Turn * perMM}
	}
	s.SineMin = l.sineMin()
	if m.HasShock() {
		gap := l.at(m.shock[1]).Minus(l.at(m.shock[0]))
		closing := l.velocity(m.shock[0]).Minus(l.velocity(m.shock[1]))
		s.ShockMM = plane.Sqrt(gap.Dot(gap))
		s.ShockRate = closing.Dot(gap) * plane.Inverse(s.ShockMM) * perMM
	}
}

// second computes second derivatives where the linkage stands, its accelerations known; s is its state.
func (l *linkage[T]) second(s *State[T], a *attitude) Second[T] {
	m := l.m
	axle := bodyPoint{m.wheel, m.axle}
	v, acc := l.velocity(axle), l.acceleration(axle)
	perMM := -plane.Inverse(v.Along)
	// f'' per travel² = (f_qq + f_t · along_qq) / along_q², since t = const − along
	perSquare := perMM * perMM
	var d Second[T]
	d.Ahead = (acc.Ahead + s.AheadRate*acc.Along) * perSquare
	if !a.chassis.Level {
		d.HeadTurn = s.VZ / s.WheelbaseMM
	}
	d.VZ = s.CosHead*d.Ahead + (s.CosHead-s.AheadRate*s.SinHead)*d.HeadTurn
	brake := (l.accel[m.brake].Turn + s.BrakeRate*acc.Along) * perSquare
	d.ContactVX = s.SinHead*d.Ahead + (s.AheadRate*s.CosHead+s.SinHead)*d.HeadTurn + brake*plane.Lift[T](a.chassis.FrontRadiusMM)
	if m.HasShock() {
		gap := l.at(m.shock[1]).Minus(l.at(m.shock[0]))
		w := l.velocity(m.shock[1]).Minus(l.velocity(m.shock[0]))
		accGap := l.acceleration(m.shock[1]).Minus(l.acceleration(m.shock[0]))
		length := s.ShockMM
		lengthQ := w.Dot(gap) / length
		lengthQQ := (accGap.Dot(gap) + w.Dot(w) - lengthQ*lengthQ) / length
		d.ShockMM = (-lengthQQ + s.ShockRate*acc.Along) * perSquare
	}
	return d
}
