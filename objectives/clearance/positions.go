package clearance

import (
	"forkfront/kinematics/mechanism"
	"forkfront/kinematics/plane"
	"forkfront/kinematics/stance"
	"forkfront/objectives/scalar"
)

// vectorCache holds a vector per point for each sample for which it has been computed.
type vectorCache struct {
	at     [][]plane.Vec[float64]
	filled []bool
}

func (h *vectorCache) clear(samples int) {
	h.at, h.filled = plane.Resize(h.at, samples), plane.Resize(h.filled, samples)
	clear(h.filled)
}

// positions returns the positions of all points at a sample, in mm.
func (k *pairSearch) positions(sample int) []plane.Vec[float64] {
	if h := &k.positionCache; !h.filled[sample] {
		h.at[sample], h.filled[sample] = k.moveFromFirst(h.at[sample], sample), true
	}
	return k.positionCache.at[sample]
}

// velocities returns the derivatives by travel of all positions at a sample.
func (k *pairSearch) velocities(sample int) []plane.Vec[float64] {
	if h := &k.rateCache; !h.filled[sample] {
		h.at[sample], h.filled[sample] = k.velocitiesOf(h.at[sample], &k.states[sample], k.positions(sample)), true
	}
	return k.rateCache.at[sample]
}

// moveFromFirst computes all positions at a sample from those at the first: only those that move with the travel are
// recomputed.
func (k *pairSearch) moveFromFirst(dst []plane.Vec[float64], sample int) []plane.Vec[float64] {
	if sample == 0 {
		return k.positionsOf(dst, &k.states[0])
	}
	start, r, st := k.positions(0), k.assembly, &k.states[sample]
	dst = append(dst[:0], start...)
	for _, i := range r.moving {
		if i >= r.points {
			dst[i] = r.freeEnds[i-r.points].position(dst)
			continue
		}
		from, to := &k.states[0].Pose[r.carrier[i]], &st.Pose[r.carrier[i]]
		x, y := start[i].Along-from.At.Along, start[i].Ahead-from.At.Ahead
		cos, sin := to.Cos*from.Cos+to.Sin*from.Sin, to.Sin*from.Cos-to.Cos*from.Sin
		dst[i] = plane.Vec[float64]{Along: to.At.Along + cos*x - sin*y, Ahead: to.At.Ahead + sin*x + cos*y}
	}
	return dst
}

// positionsOf returns the positions of all points at a state: those of the mechanism, then the free ends.
func (k *pairSearch) positionsOf(dst []plane.Vec[float64], st *stance.State[float64]) []plane.Vec[float64] {
	dst = mechanism.Positions(k.m, dst[:0], st, k.layout)
	for i := range k.assembly.freeEnds {
		dst = append(dst, k.assembly.freeEnds[i].position(dst))
	}
	return dst
}

// velocitiesOf returns the derivatives of all positions by travel at a state.
func (k *pairSearch) velocitiesOf(dst []plane.Vec[float64], st *stance.State[float64], spots []plane.Vec[float64]) []plane.Vec[float64] {
	dst = dst[:0]
	for point, body := range k.assembly.carrier {
		var v plane.Vec[float64]
		if body >= 0 {
			v = scalar.Velocity(st, body, spots[point])
		}
		dst = append(dst, v)
	}
	for i := range k.assembly.freeEnds {
		var v plane.Vec[float64]
		if point := k.assembly.freeEnds[i].point; point >= 0 {
			v = dst[point]
		}
		dst = append(dst, v)
	}
	return dst
}

// position is the position of an end that is not on a point of the mechanism, or offset from one.
func (e *end) position(points []plane.Vec[float64]) plane.Vec[float64] {
	at := plane.Vec[float64]{Along: e.shift.Along, Ahead: e.shift.Ahead}
	if e.point >= 0 {
		at.Along, at.Ahead = at.Along+points[e.point].Along, at.Ahead+points[e.point].Ahead
	}
	return at
}

func distance2(a, b plane.Vec[float64]) float64 {
	x, y := a.Along-b.Along, a.Ahead-b.Ahead
	return x*x + y*y
}
