package kinematics

import (
	"math"

	"forkfront/kinematics/plane"
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
		fa, da := l.room(i, snapshot[T]{a.Pose, a.Rate})
		fb, db := l.room(i, snapshot[T]{b.Pose, b.Rate})
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
