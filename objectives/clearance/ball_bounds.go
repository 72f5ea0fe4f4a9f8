package clearance

import (
	"math"

	"forkfront/kinematics/plane"
)

// bisect divides a cell of samples and steering steps until nothing in it can be closer than the smallest gap so far.
// The squared distance of two spots is no less than the interpolation between its values at the corners, less an
// eighth of its largest second derivative in each direction.
func (k *ballSearch) bisect(lo, hi, from, to int, c *ballCorners) {
	n := &k.current
	if n.limit <= 0 {
		return
	}
	e := k.sweep(lo, hi, from, to)
	travel, turn := e.travelCurvature(n.limitRoot), k.turnCurvature(&e)
	if c.from.leastWithin(travel, turn) >= n.limit || n.wheelKind != ballSolid && k.clearOfWheel(&e, &c.fromAxle) {
		return
	}
	switch {
	case hi-lo <= 1 && to-from <= 1:
	case hi-lo > 1 && (travel > turn || to-from <= 1):
		mid := (lo + hi) / 2
		var m ballCorners
		m.from[0][0], m.fromAxle[0][0] = k.evaluate(mid, from)
		m.from[0][1], m.fromAxle[0][1] = k.evaluate(mid, to)
		k.bisect(lo, mid, from, to, &ballCorners{corners{c.from[0], m.from[0]}, corners{c.fromAxle[0], m.fromAxle[0]}})
		k.bisect(mid, hi, from, to, &ballCorners{corners{m.from[0], c.from[1]}, corners{m.fromAxle[0], c.fromAxle[1]}})
	default:
		mid := (from + to) / 2
		before, after := *c, *c
		for i, sample := range [2]int{lo, hi} {
			before.from[i][1], before.fromAxle[i][1] = k.evaluate(sample, mid)
			after.from[i][0], after.fromAxle[i][0] = before.from[i][1], before.fromAxle[i][1]
		}
		k.bisect(lo, hi, from, mid, &before)
		k.bisect(lo, hi, mid, to, &after)
	}
}

// least is the smallest value at the corners.
func (c *corners) least() float64 { return min(c[0][0], c[0][1], c[1][0], c[1][1]) }

// leastWithin is a lower bound on what is given at the corners of a cell and has second derivatives up to these: the
// interpolation lies above the plane through the value at one corner that rises to the others by no more than they do.
func (c *corners) leastWithin(travel, turn float64) float64 {
	i, byTravel := rise(c[1][0]-c[0][0], c[1][1]-c[0][1])
	j, byTurn := rise(c[0][1]-c[0][0], c[1][1]-c[1][0])
	return c[i][j] + parabolaMinimum(0, byTravel, travel) + parabolaMinimum(0, byTurn, turn)
}

// rise picks the end of two edges at which values are lower, and by how much both at least rise from there.
func rise(one, other float64) (end int, by float64) {
	if one+other < 0 {
		return 1, min(-one, -other)
	}
	return 0, min(one, other)
}

// ballSweep is how a pair moves over a cell, as seen from the steering axis: the part that steers stays in place, and the
// other one is turned back. Spots are given ahead of the axis and to the left.
type ballSweep struct {
	move, mixed float64        // largest relative displacement from the first sample to the last, mm; product of those of both parts
	sag         float64        // how far the paths between may be off straight lines, mm
	angle       float64        // between the steering steps, rad
	half        turned         // half of that
	steered     [2][2]sideways // by sample and end; of the wheel, the axle
	other       [2][2]sideways // turned by the angle in the middle
	far         [2]float64     // largest distance from the axis, of the part that steers and the other, mm
}

// sideways is where a spot lies square to the steering axis, in mm.
type sideways struct{ ahead, left float64 }

// sweep returns how the current pair moves over a cell.
func (k *ballSearch) sweep(lo, hi, from, to int) ballSweep {
	n, r := &k.current, k.assembly
	way := k.states[hi].TravelMM - k.states[lo].TravelMM
	e := ballSweep{sag: n.curvature * way * way / 8, angle: 2 * r.lock / steerSteps * float64(to-from), half: r.balls.turns[steerSteps+to-from]}
	mid := &r.balls.turns[from+to]
	p, q := &r.parts[n.a], &r.parts[n.b]
	x, y := k.spots(lo), k.spots(hi)
	moves := [2]float64{p.largestMove(x, y), q.largestMove(x, y)}
	e.move, e.mixed = moves[0]+moves[1], moves[0]*moves[1]
	for s, spots := range [2][]plane.Vec[float64]{x, y} {
		for i := range 2 {
			a := sideways{spots[p.spots[i]].Ahead, p.ends[i].shift.Left}
			ahead, left := spots[q.spots[i]].Ahead, q.ends[i].shift.Left
			b := sideways{mid.cos*ahead + mid.sin*left, mid.cos*left - mid.sin*ahead}
			e.steered[s][i], e.other[s][i] = a, b
			e.far[0], e.far[1] = max(e.far[0], a.ahead*a.ahead+a.left*a.left), max(e.far[1], b.ahead*b.ahead+b.left*b.left)
		}
	}
	e.far[0], e.far[1] = math.Sqrt(e.far[0])+e.sag, math.Sqrt(e.far[1])+e.sag
	return e
}

// largestMove is the larger displacement of the ends of a part, in mm.
func (p *part) largestMove(x, y []plane.Vec[float64]) float64 {
	return math.Sqrt(max(distance2(x[p.spots[0]], y[p.spots[0]]), distance2(x[p.spots[1]], y[p.spots[1]])))
}

// travelCurvature is a bound on the second derivative of a squared distance up to the square of a limit by the fraction of
// the travel over the cell; see bisect of pairSearch.
func (e *ballSweep) travelCurvature(limitRoot float64) float64 {
	return 2*e.move*e.move + (16*limitRoot+8*e.sag)*e.sag
}

// curvatureByProduct is the second derivative of the squared distance by the fraction of the angle of the cell, of two spots
// with a given scalar product square to the axis.
func (e *ballSweep) curvatureByProduct(product float64) float64 {
	return 2 * max(0, product) * e.angle * e.angle
}

// product is a bound on the scalar product, square to the axis, of a spot that steers with those of the other part.
func (e *ballSweep) product(a sideways) float64 {
	most := math.Inf(-1)
	for s := range e.other {
		for i := range e.other[s] {
			b := &e.other[s][i]
			dot, cross := a.ahead*b.ahead+a.left*b.left, a.ahead*b.left-a.left*b.ahead
			if dot < 0 {
				dot *= e.half.cos
			}
			most = max(most, dot+math.Abs(cross)*e.half.sin)
		}
	}
	return most
}

// slack is by how much the scalar product of two spots between the samples can exceed those at the samples.
func (e *ballSweep) slack() float64 { return e.mixed + e.sag*(e.far[0]+e.far[1]) }

// turnCurvature is a bound on the second derivative of the squared distance of the current pair by the fraction of the angle:
// twice the scalar product of two spots that may be closer than the limit, square to the axis, times the square of the angle.
func (k *ballSearch) turnCurvature(e *ballSweep) float64 {
	n := &k.current
	near := n.limitRoot + e.move + e.sag
	if n.wheelKind != ballSolid {
		// Only where the wheel is as far ahead as the other part can it be close to it.
		low, high := math.Inf(1), math.Inf(-1)
		for s := range e.other {
			for _, b := range e.other[s] {
				by := math.Abs(b.ahead)*(1-e.half.cos) + math.Abs(b.left)*e.half.sin
				low, high = min(low, b.ahead-by), max(high, b.ahead+by)
			}
		}
		reach := k.assembly.ring.RadiusMM + e.move + e.sag
		at := e.steered[0][0].ahead
		low, high = max(low-near, at-reach), min(high+near, at+reach)
		return e.curvatureByProduct(max(e.product(sideways{ahead: low}), e.product(sideways{ahead: high})) + e.slack())
	}
	most := math.Inf(-1)
	for s := range e.steered {
		for _, a := range e.steered[s] {
			most = max(most, e.product(a))
		}
	}
	return e.curvatureByProduct(min(most+e.slack(), min(e.far[0], e.far[1]+near)*min(e.far[1], e.far[0]+near)))
}

// clearOfWheel reports whether the current pair, of the wheel, stays so far from the axle in a cell that it is no closer to the
// wheel than the limit. Steering hardly moves the axle. Rim and spokes are no closer than the tyre to what lies
// outside the ring.
func (k *ballSearch) clearOfWheel(e *ballSweep, fromAxle *corners) bool {
	n, r := &k.current, k.assembly
	most := max(e.product(e.steered[0][0]), e.product(e.steered[1][0])) + e.slack()
	least := fromAxle.leastWithin(e.travelCurvature(n.limitRoot+r.ring.RadiusMM), e.curvatureByProduct(most))
	if reach := r.ring.RadiusMM + n.limitRoot; least >= reach*reach {
		return true
	}
	if n.wheelKind != ballDisc || r.tyreRadius < r.discHalfWidth {
		return false
	}
	beside := 0.0
	for s := range e.other {
		for _, b := range e.other[s] {
			beside = max(beside, math.Abs(b.left)+(math.Abs(b.ahead)+e.sag)*e.half.sin)
		}
	}
	return least-beside*beside >= r.ring.RadiusMM*r.ring.RadiusMM
}
