package mechanism

import (
	"forkfront/kinematics/plane"
	"forkfront/kinematics/stance"
)

// Positions appends to dst where each point of the mechanism is at a state, in the order of Points, in
// the fork frame. The layout is the one that the state was solved for. A pin is taken as a point of
// its first body; closed to 1e-9 mm it is as well one of the others.
// They carry derivatives where the state and the layout do. An extended layout has the points of sliding tubes too.
func Positions[T plane.Scalar](m *Mechanism, dst []plane.Vec[T], s *stance.State[T], layout []plane.Vec[T]) []plane.Vec[T] {
	for point := range m.Points {
		at := layout[point]
		if on := m.carried[point]; len(on) > 0 {
			pose, anchor := &s.Pose[on[0]], m.anchor[on[0]]
			at = pose.At.Plus(pose.Turned(layout[point].Minus(layout[anchor])))
		}
		dst = append(dst, at)
	}
	for i := len(m.Points); i < len(layout); i++ {
		dst = append(dst, position(m, m.extra[i-len(m.Points)], layout[i], s, layout))
	}
	return dst
}
