package kinematics

import "math"

// stopped tells why the motion ends where the path stands: an axle that comes to rest there, while two
// links come into line, is held by links that do not reach any further; otherwise the axle moves on and
// would turn back along the steering axis. A path that is tired ends before either.
func (mo *Motion) stopped() string {
	const (
		inLine = 1e-2 // sine
		rest   = 1e-2 // of what the fastest body's turn would give the axle at an arm of the mechanism's size
	)
	l, c := &mo.link, &mo.path
	if c.tired {
		return "the links stay so close to dead points that they cannot be followed any further"
	}
	c.place(l, false)
	fastest := 0.0
	for b := range l.rate {
		fastest = math.Max(fastest, math.Abs(l.rate[b].Turn))
	}
	speed := l.velocity(l.m.Hub())
	if name, sine := l.leastAngle(); sine < inLine && math.Hypot(speed.Along, speed.Ahead) < rest*fastest*c.size {
		return name + " cannot close any further"
	}
	return "the axle comes to a dead point and would turn back"
}
