package clearance

import (
	"math"

	"forkfront/kinematics/plane"
	"forkfront/kinematics/stance"
)

// pairSearch searches the pairs of an assembly for the smallest gap. It holds one worker's scratch memory.
type pairSearch struct {
	*problem
	positionCache vectorCache  // by sample, see Assembly.indexEnds
	rateCache     vectorCache  // their derivatives by travel
	radii         []float64    // by part
	bounds        []partBounds // by part
	paths         []pathBounds // by position
	best          contact
	current       pairState
	pending       []pendingPair
	deepest       crossing                // of the last call of Crossing
	interpolated  [2][]plane.Vec[float64] // positions and velocities between samples
	trial         stance.State[float64]
}

// pairState is the pair that is being searched.
type pairState struct {
	*pair
	index     int     // index of the pair
	step      int     // steering step if that is searched for; otherwise −1
	radii     float64 // sum of the radii of both parts, including the section of the wheel, mm
	limit     float64 // squared distance below which the gap is smaller than the smallest so far
	limitRoot float64 // its square root, or more
	curvature float64 // of the paths of both parts, see pathBounds
}

// pendingPair is a pair that has been evaluated only at both ends of the travel, or not at all if its steering angle
// is free.
type pendingPair struct {
	pair      int
	steerFree bool
	from, to  float64 // squared distances
}

// search finds the smallest gap of the pairs from ≤ i < to: at both ends of the travel first, where most gaps are
// smallest, and then in between.
func (k *pairSearch) search(from, to int) {
	k.best = contact{pair: -1, gap: math.Inf(1)}
	k.pending = k.pending[:0]
	for i := from; i < to; i++ {
		p := &k.assembly.pairs[i]
		switch {
		case k.steerFree(p):
			if !k.separatedAlong(p) {
				k.pending = append(k.pending, pendingPair{pair: i, steerFree: true})
			}
		case !k.separated(p):
			k.searchEnds(i)
		}
	}
	for i := range k.pending {
		k.searchTravel(&k.pending[i])
	}
}

// steerFree reports whether the steering angle of a pair has to be searched for.
func (k *pairSearch) steerFree(p *pair) bool {
	return p.steering == steerUnknown || p.steering == steerFixedIfAhead && k.bounds[p.a].middle.Ahead < k.bounds[p.a].half.Ahead
}

// load makes a pair the current one.
func (k *pairSearch) load(i, step int) {
	n, p := &k.current, &k.assembly.pairs[i]
	n.pair, n.index, n.step = p, i, step
	n.radii = k.radii[p.a] + k.radii[p.b] + p.section
	n.curvature = k.bounds[p.a].curvature + k.bounds[p.b].curvature
	n.limit = k.limit()
}

// searchEnds evaluates a pair at both ends of the travel.
func (k *pairSearch) searchEnds(i int) {
	if k.load(i, -1); k.lowerBound() >= k.current.limit {
		return
	}
	o := pendingPair{pair: i, from: k.evaluate(0)}
	if !k.current.rigid {
		o.to = k.evaluate(k.last)
		k.pending = append(k.pending, o)
	}
}

// searchTravel searches the rest of the travel.
func (k *pairSearch) searchTravel(o *pendingPair) {
	switch {
	case o.steerFree:
		if !k.separatedAlong(&k.assembly.pairs[o.pair]) {
			k.searchSteering(o.pair)
		}
	case !k.separated(&k.assembly.pairs[o.pair]):
		k.load(o.pair, -1)
		k.current.limitRoot = math.Sqrt(k.current.limit)
		k.bisect(0, k.last, o.from, o.to)
	}
}

// bisect searches the samples between two that have been evaluated. If the points of both parts moved along straight
// lines from one sample to the other, the squared distance of any two of them would be a parabola whose second
// derivative is twice the square of their relative displacement; the smallest of these lies above the parabola with
// the largest second derivative through the smallest values at both ends. The curvature of the paths reduces the
// distance, at a fraction t between the samples, by at most sag 4 t (1 − t): as much as a second derivative of 16
// limit sag + 8 sag², with the limit as a distance.
func (k *pairSearch) bisect(from, to int, squareFrom, squareTo float64) {
	n := &k.current
	curvature := k.travelCurvature(from, to)
	if parabolaMinimum(squareFrom, squareTo, curvature) >= n.limit || k.heldByHinge(from, to, squareFrom, squareTo, curvature) {
		return
	}
	if to-from == 1 {
		if squareFrom != squareTo { // exactly equal where the closest points are fixed, as at a pivot
			k.refine(&cell{from, to, n.steer, n.steer})
		}
		return
	}
	mid := (from + to) / 2
	square := k.evaluate(mid)
	k.bisect(from, mid, squareFrom, square)
	k.bisect(mid, to, square, squareTo)
}

// parabolaMinimum is the minimum between 0 and 1 of the parabola with values a and b there and a given second
// derivative.
func parabolaMinimum(a, b, curvature float64) float64 {
	rise := b - a
	if math.Abs(rise) >= curvature/2 {
		return min(a, b)
	}
	return (a+b)/2 - curvature/8 - rise*rise/(2*curvature)
}

// travelCurvature is a bound on the second derivative of the squared distance by the fraction of the travel between
// two samples.
func (k *pairSearch) travelCurvature(from, to int) float64 {
	n := &k.current
	travel := k.states[to].TravelMM - k.states[from].TravelMM
	sag := n.curvature * travel * travel / 8
	return 2*k.relativeMove2(from, to) + (16*n.limitRoot+8*sag)*sag
}

// relativeMove2 is the largest squared relative displacement of a point of one part and one of the other between two
// samples.
func (k *pairSearch) relativeMove2(from, to int) float64 {
	p, q := &k.assembly.parts[k.current.a], &k.assembly.parts[k.current.b]
	x, y := k.positions(from), k.positions(to)
	a0, a1 := y[p.spots[0]].Minus(x[p.spots[0]]), y[p.spots[1]].Minus(x[p.spots[1]])
	b0, b1 := y[q.spots[0]].Minus(x[q.spots[0]]), y[q.spots[1]].Minus(x[q.spots[1]])
	return max(distance2(a0, b0), distance2(a0, b1), distance2(a1, b0), distance2(a1, b1))
}

// evaluate returns the squared distance of the pair at a sample, and updates the smallest gap.
func (k *pairSearch) evaluate(sample int) float64 {
	n := &k.current
	square := k.distance2(sample)
	if square < n.limit {
		if gap := k.gapAt(square); gap < k.best.gap {
			n.limit = square
			k.best = contact{pair: n.index, sample: sample, travelMM: k.states[sample].TravelMM, steer: n.steer, gap: gap}
			if n.step >= 0 {
				k.best.steer, k.best.steerFound = k.assembly.steerAngle(n.step), true
			}
		}
	}
	return square
}
