package kinematics

import (
	"math"

	"forkfront/kinematics/plane"
)

// snapshot is where all bodies are, and how fast they move per mm of travel.
type snapshot[T plane.Scalar] struct {
	pose []plane.Pose[T]
	rate []plane.Rate[T]
}

// room is how much a dyad has left before its toggle, in parts of its lengths to the fourth or
// second power, and the derivative per mm of travel; positive where it closes. Newton watches its
// groups itself, so they have room.
func (l *linkage[T]) room(i int, s snapshot[T]) (float64, float64) {
	st := &l.m.steps[i]
	switch {
	case st.kind == dyad:
		t := &l.dyads[i]
		gap, closing := l.between(s, st.on[0], st.on[1])
		square, slope := gap.Dot(gap), 2*gap.Dot(closing)
		sum, product := plane.Real(t.square[0]+t.square[1]), 4*plane.Real(t.square[0]*t.square[1])
		off := square - sum
		return (product - off*off) / product, -2 * off * slope / product
	case st.group.form == slideOuter:
		return l.groups[i].outer.room(l, st.group, &l.groups[i], s)
	case st.group.form == slideInner:
		d := &l.groups[i].inner
		gap, closing := l.between(s, place{st.group.limbs[0].parent, st.group.limbs[0].point}, d.far)
		across := plane.Real(d.across * d.across)
		scale := math.Max(across, plane.Real(d.along*d.along))
		return (gap.Dot(gap) - across) / scale, 2 * gap.Dot(closing) / scale
	}
	return 1, 0
}

// between is the way from one place to another at a state, and its rate per mm of travel.
func (l *linkage[T]) between(s snapshot[T], from, to place) (way, rate plane.Vec[float64]) {
	at, v := l.seen(s, to)
	back, w := l.seen(s, from)
	return at.Minus(back), v.Minus(w)
}

// seen is where a place is at a state, and its velocity per mm of travel.
func (l *linkage[T]) seen(s snapshot[T], p place) (at, v plane.Vec[float64]) {
	arm := s.pose[p.body].Turned(l.offset[p.body*len(l.m.Points)+p.point])
	x, r := s.pose[p.body].At.Plus(arm), &s.rate[p.body]
	u := r.At.Plus(arm.Quarter().Times(r.Turn))
	return plane.Vec[float64]{Along: plane.Real(x.Along), Ahead: plane.Real(x.Ahead)}, plane.Vec[float64]{Along: plane.Real(u.Along), Ahead: plane.Real(u.Ahead)}
}

// room is the part of the arm's squared length that its distance from the line leaves, and the
// derivative per mm of travel.
func (d *sliderOuter[T]) room(l *linkage[T], g *group, c *cluster[T], s snapshot[T]) (float64, float64) {
	pin, guide := &g.limbs[d.pin], g.limbs[d.slide].parent
	held, velocity := l.seen(s, place{pin.parent, pin.point})
	pose, rate := &s.pose[guide], &s.rate[guide]
	turned, unit := pose.Turned(d.tip), plain(pose.Turned(c.unit[d.slide]))
	start := plain(pose.At.Plus(turned)).Minus(held)
	moved := plain(rate.At.Plus(turned.Quarter().Times(rate.Turn))).Minus(velocity)
	off := unit.Cross(start)
	slope := unit.Cross(moved) + unit.Quarter().Cross(start)*plane.Real(rate.Turn)
	square := plane.Real(d.square)
	return 1 - off*off/square, -2 * off * slope / square
}

// plain is a vector without its derivative.
func plain[T plane.Scalar](v plane.Vec[T]) plane.Vec[float64] {
	return plane.Vec[float64]{Along: plane.Real(v.Along), Ahead: plane.Real(v.Ahead)}
}
