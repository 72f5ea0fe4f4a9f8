package kinematics

// Places appends to dst where each point of the mechanism is at a state, in the order of Points, in
// the fork frame. The layout is the one that the state was solved for. A pin is taken as a point of
// its first body; closed to 1e-9 mm it is as well one of the others.
func (m *Mechanism) Places(dst []Vec[float64], s *State[float64], layout []Vec[float64]) []Vec[float64] {
	return Places(m, dst, s, layout)
}

// Places is that of the mechanism, with derivatives where the state and the layout have them.
func Places[T Scalar](m *Mechanism, dst []Vec[T], s *State[T], layout []Vec[T]) []Vec[T] {
	for point := range m.Points {
		at := layout[point]
		if on := m.carried[point]; len(on) > 0 {
			pose, anchor := &s.Pose[on[0]], m.anchor[on[0]]
			at = pose.At.plus(pose.turned(layout[point].minus(layout[anchor])))
		}
		dst = append(dst, at)
	}
	return dst
}

// Rear returns the rear axle's place in the fork frame, to which the frame is fixed. The chassis
// stands as it does at top-out.
func (c *Chassis) Rear() Vec[float64] { return c.attitude().rear }
