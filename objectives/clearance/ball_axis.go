package clearance

import (
	"math"

	"forkfront/kinematics/plane"
	"forkfront/kinematics/solid"
)

// ballBounds is the box about the path of a part over the travel, as seen from the steering axis, in mm: of a part that steers,
// at all steering angles; of the wheel, that of its axle.
type ballBounds struct {
	low, high solid.Spot[float64]
	curvature float64 // see pathBounds
}

// spots returns the positions at a sample, as seen from the steering axis: down from the lower ball, and ahead of it.
func (k *ballSearch) spots(sample int) []plane.Vec[float64] {
	if h := &k.spotCache; !h.filled[sample] {
		positions := k.fork.positions(sample)
		h.at[sample], h.filled[sample] = plane.Resize(h.at[sample], len(positions)), true
		axis := axisOf(k.assembly.balls, positions)
		for _, i := range k.assembly.balls.spots {
			off := positions[i].Minus(axis.At)
			h.at[sample][i] = plane.Vec[float64]{Along: axis.Ahead.Cross(off) * -1, Ahead: axis.Ahead.Dot(off)}
		}
	}
	return k.spotCache.at[sample]
}

// boundParts bounds all parts of ball pairs.
func (k *ballSearch) boundParts() {
	b := k.assembly.balls
	k.paths = plane.Resize(k.paths, k.assembly.points+len(k.assembly.freeEnds))
	k.fork.survey(k.spots, k.paths, b.spots)
	k.bounds = plane.Resize(k.bounds, len(k.assembly.parts))
	for _, i := range b.others {
		k.bounds[i] = k.boundsOf(&k.assembly.parts[i])
	}
	for _, i := range b.steered {
		k.bounds[i] = k.boundsOf(&k.assembly.parts[i])
		k.bounds[i].turn(&b.turns[2*steerSteps])
	}
}

// boundsOf is the box about a part at no steering.
func (k *ballSearch) boundsOf(p *part) ballBounds {
	x, y := &k.paths[p.spots[0]], &k.paths[p.spots[1]]
	return ballBounds{
		low:       solid.Spot[float64]{Along: min(x.low.Along, y.low.Along), Ahead: min(x.low.Ahead, y.low.Ahead), Left: p.right()},
		high:      solid.Spot[float64]{Along: max(x.high.Along, y.high.Along), Ahead: max(x.high.Ahead, y.high.Ahead), Left: p.left()},
		curvature: max(x.curvature, y.curvature),
	}
}

// turn extends the box to all steering angles up to the lock. What is turned is farthest out at a lock, or, if it passes
// through the direction in between, at its distance from the axis.
func (o *ballBounds) turn(lock *turned) {
	low, high := o.low, o.high
	for _, ahead := range [2]float64{low.Ahead, high.Ahead} {
		for _, left := range [2]float64{low.Left, high.Left} {
			far := math.Sqrt(ahead*ahead + left*left)
			a, b := lock.cos*ahead-lock.sin*left, lock.cos*ahead+lock.sin*left
			c, d := lock.cos*left+lock.sin*ahead, lock.cos*left-lock.sin*ahead
			o.low.Ahead, o.high.Ahead = min(o.low.Ahead, a, b), max(o.high.Ahead, a, b)
			o.low.Left, o.high.Left = min(o.low.Left, c, d), max(o.high.Left, c, d)
			if lock.cos*math.Abs(left) <= lock.sin*math.Abs(ahead) {
				o.low.Ahead, o.high.Ahead = min(o.low.Ahead, math.Copysign(far, ahead)), max(o.high.Ahead, math.Copysign(far, ahead))
			}
			if lock.cos*math.Abs(ahead) <= lock.sin*math.Abs(left) {
				o.low.Left, o.high.Left = min(o.low.Left, math.Copysign(far, left)), max(o.high.Left, math.Copysign(far, left))
			}
		}
	}
}

// separated reports whether the boxes of the current pair are farther apart than the limit.
func (k *ballSearch) separated() bool {
	n := &k.current
	a, b := &k.bounds[n.a], &k.bounds[n.b]
	reach := n.limitRoot
	if n.wheelKind != ballSolid && reach > 0 {
		reach += k.assembly.ring.RadiusMM
	}
	x := max(0, a.low.Along-b.high.Along, b.low.Along-a.high.Along)
	y := max(0, a.low.Ahead-b.high.Ahead, b.low.Ahead-a.high.Ahead)
	z := max(0, a.low.Left-b.high.Left, b.low.Left-a.high.Left)
	return x*x+y*y+z*z >= reach*reach
}
