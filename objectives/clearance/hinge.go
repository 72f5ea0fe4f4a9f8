package clearance

import "forkfront/kinematics/plane"

// hinge is how one part of a pair turns about its end that stands still, while the other part stands still altogether.
// Often this end is closest to it over the whole travel, which no other bound can tell from a gap that shrinks a little.
type hinge struct {
	turning, standing int // parts; the same: there is no hinge
	still             int // end of the part that turns
}

// hingeOf is the hinge of two parts that are both flat, if they have one.
func (r *Assembly) hingeOf(a, b int) hinge {
	p, q := &r.parts[a], &r.parts[b]
	if p.fixed {
		a, b, p, q = b, a, q, p
	}
	if !q.fixed || !r.stands(q.ends[0].point) || !r.stands(q.ends[1].point) || p.fixed || p.wheel || r.stands(p.ends[0].point) == r.stands(p.ends[1].point) {
		return hinge{}
	}
	h := hinge{turning: a, standing: b}
	if r.stands(p.ends[1].point) {
		h.still = 1
	}
	return h
}

// stands reports whether an end at a point of the mechanism, or at none, does not move with the travel.
func (r *Assembly) stands(point int) bool { return point < 0 || r.onGround[point] }

// heldByHinge reports whether the end that stands still is the closest one at two samples and remains it in between. The
// squared distance of a spot at a fraction s of the part that turns is convex in s, so at both samples at least that of
// the end that stands still, plus s times its slope there. In between it is lower by no more than s times an eighth of
// the curvature, which the end that moves has.
func (k *pairSearch) heldByHinge(from, to int, squareFrom, squareTo, curvature float64) bool {
	h := &k.current.hinge
	if h.turning == h.standing {
		return false
	}
	p, q := &k.assembly.parts[h.turning], &k.assembly.parts[h.standing]
	x, y := k.positions(from), k.positions(to)
	still, a, b := x[p.spots[h.still]], x[q.spots[0]], x[q.spots[1]]
	line, off := b.Minus(a), still.Minus(a)
	if square := line.Dot(line); square > 0 {
		off = off.Minus(line.Times(max(0, min(1, off.Dot(line)/square))))
	}
	if nearest := off.Dot(off) * (1 - rounding); nearest > squareFrom || nearest > squareTo {
		return false
	}
	slope := func(spots []plane.Vec[float64]) float64 { return 2 * off.Dot(spots[p.spots[1-h.still]].Minus(still)) }
	return min(slope(x), slope(y)) >= curvature/8
}

// rounding is the relative difference up to which two squared distances count as equal.
const rounding = 1e-12
