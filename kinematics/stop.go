package kinematics

import "math"

// stopped tells why the motion ends where the course stands: a body that carries the axle and comes to
// rest there, while two links that hold it come into line, is at the end of their reach; otherwise the
// axle itself comes to a dead point.
func (mo *Motion) stopped() string {
	const (
		inLine = 1e-2 // sine
		rest   = 1e-2 // of the fastest turn
	)
	l, c := &mo.link, &mo.course
	c.rates()
	c.place(l, false)
	fastest := 0.0
	for b := range l.rate {
		fastest = math.Max(fastest, math.Abs(l.rate[b].Turn))
	}
	wheel := &l.rate[l.m.wheel]
	if name, sine := l.leastAngle(); sine < inLine && math.Abs(wheel.Turn) < rest*fastest {
		return name + " cannot close any further"
	}
	return "the axle comes to a dead point and would turn back"
}
