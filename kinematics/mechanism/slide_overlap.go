package mechanism

import (
	"forkfront/kinematics/plane"
	"forkfront/kinematics/stance"
)

// SlideReserveMM is how far an inner tube reaches beyond the outer one's mouth at full travel, and the outer one
// beyond the inner one's end (common practice, no source): room for stops and seals.
const SlideReserveMM = 10

// Slid is how far the tubes of a slide have moved into each other since top-out, in mm: the overlap grows by it. layout
// is that which the state was solved for.
func Slid[T plane.Scalar](m *Mechanism, s *Slide, state *stance.State[T], layout []plane.Vec[T]) T {
	end := layout[s.Through[1]]
	way := position(m, s.Slider, end, state, layout).Minus(position(m, s.Guide, end, state, layout))
	return state.Pose[s.Guide].Turned(axisOf(s, layout)).Dot(way)
}

// axisOf is the direction of a slide at top-out, from the end of the inner tube back along it.
func axisOf[T plane.Scalar](s *Slide, layout []plane.Vec[T]) plane.Vec[T] {
	line := layout[s.Through[0]].Minus(layout[s.Through[1]])
	return line.Times(plane.Inverse(plane.Sqrt(line.Dot(line))))
}

// Overlap is how far the inner tube of a slide reaches into the outer one at top-out, in mm, given how far they move into
// each other: as far as wanted, but no further than full travel leaves room for. It may come out negative.
func Overlap[T plane.Scalar](s *Slide, layout []plane.Vec[T], slid T, wanted float64) T {
	line := layout[s.Through[0]].Minus(layout[s.Through[1]])
	room := plane.Sqrt(line.Dot(line)) - inward(slid) - plane.Lift[T](SlideReserveMM)
	if plane.Real(room) < wanted {
		return room
	}
	return plane.Lift[T](wanted)
}

// inward is a movement of tubes into each other, 0 where they move apart.
func inward[T plane.Scalar](slid T) T {
	if plane.Real(slid) < 0 {
		return 0
	}
	return slid
}

// ExtendLayout appends to dst a layout and the places at top-out of the mouth and the foot of each sliding tube, which follow
// from full, the state at full travel. overlap is the one wanted at top-out, in mm.
func ExtendLayout[T plane.Scalar](m *Mechanism, dst, layout []plane.Vec[T], full *stance.State[T], overlap float64) []plane.Vec[T] {
	dst = append(dst, layout[:len(m.Points)]...)
	for i := range m.slides {
		s := &m.slides[i]
		slid, axis, end := Slid(m, s, full, layout), axisOf(s, layout), layout[s.Through[1]]
		mouth := end.Plus(axis.Times(Overlap(s, layout, slid, overlap)))
		foot := end.Minus(axis.Times(inward(slid) + plane.Lift[T](SlideReserveMM)))
		dst = append(dst, mouth, foot)
	}
	return dst
}

// position is where a place of a body at top-out is at a state.
func position[T plane.Scalar](m *Mechanism, body int, at plane.Vec[T], s *stance.State[T], layout []plane.Vec[T]) plane.Vec[T] {
	pose := &s.Pose[body]
	return pose.At.Plus(pose.Turned(at.Minus(layout[m.Anchors()[body]])))
}
