package kinematics

import (
	"forkfront/kinematics/plane"
	"math"
)

// Between two samples a linkage may pass through what cannot be driven: a gap in which some links
// do not reach, or a stretch in which the axle turns back. Both ends are then solved, and on the
// same side of every dyad, but the path from one to the other is drawn and not driven. What the
// ends tell of the way between is held against such gaps, and where it is not plain the step is
// halved.

const (
	plainSine = 0.35 // above this no dyad comes to its toggle within a step
	halvings  = 10
)

// joined tells whether sample i is reached from the one before without leaving the branch. If not,
// the motion ends where it would.
func (mo *Motion) joined(i int) bool {
	a, b := &mo.States[i-1], &mo.States[i]
	if mo.plain(a, b) {
		return true
	}
	mo.between = plane.Resize(mo.between, halvings)
	ok := mo.walk(a, b, 0)
	if ok {
		mo.stand(b)
	}
	return ok
}

// walk joins two states through ever more between them.
func (mo *Motion) walk(a, b *State[float64], depth int) bool {
	if mo.plain(a, b) {
		return true
	}
	if depth == halvings {
		mo.ReachedMM = a.TravelMM
		mo.Fault = "the way on is cut: " + mo.link.cut(a, b)
		return false
	}
	mo.stand(a)
	middle := (a.TravelMM + b.TravelMM) / 2
	if !mo.settle(middle) {
		mo.stand(a)
		return mo.creep(a.TravelMM, middle) && mo.walkOn(b, middle, depth)
	}
	return mo.walkFrom(a, b, middle, depth)
}

// walkOn goes on after a middle that was reached in small steps.
func (mo *Motion) walkOn(b *State[float64], middle float64, depth int) bool {
	c := &mo.between[depth]
	mo.link.read(c, &mo.attitude, middle)
	return mo.walk(c, b, depth+1)
}

func (mo *Motion) walkFrom(a, b *State[float64], middle float64, depth int) bool {
	c := &mo.between[depth]
	mo.link.read(c, &mo.attitude, middle)
	return mo.walk(a, c, depth+1) && mo.walk(c, b, depth+1)
}

// plain tells whether two states are joined beyond doubt.
func (mo *Motion) plain(a, b *State[float64]) bool {
	return mo.forward(a, b) && (math.Min(a.SineMin, b.SineMin) > plainSine || mo.link.cut(a, b) == "")
}

// forward tells whether the axle goes one way between two states beyond doubt: whether the slopes
// of its travel over the drive are both so near to the mean that the cubic through them is monotone
// with room to spare (its bound is 3 each; Fritsch and Carlson 1980).
func (mo *Motion) forward(a, b *State[float64]) bool {
	first := &mo.link.m.steps[0]
	from, to := a.Drive, b.Drive
	way := to.Way - from.Way
	if first.kind == turnDrive {
		way = angleOf(to.Sin*from.Cos-to.Cos*from.Sin, to.Cos*from.Cos+to.Sin*from.Sin)
	}
	secant := way / (b.TravelMM - a.TravelMM)
	alpha, beta := secant/mo.slopeOf(a), secant/mo.slopeOf(b)
	return alpha > 0 && beta > 0 && alpha+beta <= 3
}

// slopeOf is the drive per mm of travel at a state.
func (mo *Motion) slopeOf(s *State[float64]) float64 {
	first := &mo.link.m.steps[0]
	r := &s.Rate[first.body[0]]
	if first.kind == slideDrive {
		return r.At.Dot(mo.link.slide)
	}
	return r.Turn
}

// cut names the bodies that do not reach each other somewhere between two states, as far as the
// ends tell; it is empty where none do.
func (l *linkage[T]) cut(a, b *State[T]) string {
	way := plane.Real(b.TravelMM - a.TravelMM)
	for i := range l.m.steps {
		s := &l.m.steps[i]
		if s.kind < dyad {
			continue
		}
		fa, da := l.room(i, a)
		fb, db := l.room(i, b)
		if !(least(fa, fb, da*way, db*way) > 0) {
			return l.m.names(s) + " cannot close"
		}
	}
	return ""
}

// least is the smallest value on 0..1 of the cubic with these values and slopes at its ends.
func least(f0, f1, d0, d1 float64) float64 {
	low := math.Min(f0, f1)
	// f = f0 + d0 x + b x² + a x³
	a, b := d0+d1-2*(f1-f0), 3*(f1-f0)-2*d0-d1
	root := b*b - 3*a*d0
	if root < 0 {
		return low
	}
	// The stable forms of both roots of 3a x² + 2b x + d0.
	q := -(b + math.Copysign(math.Sqrt(root), b))
	for _, x := range [2]float64{q / (3 * a), d0 / q} {
		if x > 0 && x < 1 {
			low = math.Min(low, f0+x*(d0+x*(b+x*a)))
		}
	}
	return low
}

// room is how much a dyad has left before its toggle, in parts of its lengths to the fourth or
// second power, and the derivative per mm of travel; positive where it closes. Newton watches its
// groups itself, so they have room.
func (l *linkage[T]) room(i int, s *State[T]) (float64, float64) {
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
func (l *linkage[T]) between(s *State[T], from, to place) (way, rate plane.Vec[float64]) {
	at, v := l.seen(s, to)
	back, w := l.seen(s, from)
	return at.Minus(back), v.Minus(w)
}

// seen is where a place is at a state, and its velocity per mm of travel.
func (l *linkage[T]) seen(s *State[T], p place) (at, v plane.Vec[float64]) {
	arm := s.Pose[p.body].Turned(l.offset[p.body*len(l.m.Points)+p.point])
	x, r := s.Pose[p.body].At.Plus(arm), &s.Rate[p.body]
	u := r.At.Plus(arm.Quarter().Times(r.Turn))
	return plane.Vec[float64]{Along: plane.Real(x.Along), Ahead: plane.Real(x.Ahead)}, plane.Vec[float64]{Along: plane.Real(u.Along), Ahead: plane.Real(u.Ahead)}
}
