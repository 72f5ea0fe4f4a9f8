package kinematics

import (
	"math"

	"forkfront/kinematics/plane"
)

// stop records where the motion ends, and why: the axle comes to a dead point, or some links come
// to the end of their reach, whichever would be first by how fast either approaches.
func (mo *Motion) stop(at float64) {
	mo.ReachedMM = at
	mo.Fault = "the axle comes to a dead point and would turn back"
	l := &mo.link
	mo.between = plane.Resize(mo.between, halvings)
	s := &mo.between[0]
	l.read(s, &mo.attitude, at)
	l.accelerations()
	axle := place{l.m.wheel, l.m.axle}
	speed := l.velocity(axle).Along
	first := speed * speed / l.acceleration(axle).Along // mm of travel: speed over its own rate
	if !(first > 0) {
		first = math.Inf(1)
	}
	for i := range l.m.steps {
		st := &l.m.steps[i]
		if st.kind < dyad {
			continue
		}
		if left := mo.left(i, s); left < first {
			first = left
			mo.Fault = l.m.names(st) + " cannot close any further"
		}
	}
}

// left is about how much travel a step has left until it no longer closes, in mm.
func (mo *Motion) left(i int, s *State[float64]) float64 {
	l := &mo.link
	if st := &l.m.steps[i]; st.group != nil && st.group.form != slideOuter && st.group.form != slideInner {
		// Where a group is not held any more its rates grow beyond measure, and the axle's with them.
		if l.groups[i].sine > math.Abs(l.velocity(place{l.m.wheel, l.m.axle}).Along/mo.topOut) {
			return math.Inf(1)
		}
		return 0
	}
	room, slope := l.room(i, snapshot[float64]{s.Pose, s.Rate})
	if slope >= 0 {
		return math.Inf(1)
	}
	return -room / slope
}
