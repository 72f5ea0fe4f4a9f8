package clearance

import (
	"math"

	"forkfront/kinematics/plane"
	"forkfront/kinematics/solid"
	"forkfront/kinematics/stance"
)

// ballSearch searches the ball pairs for the smallest gap, in the frame of the steering axis. It holds one worker's scratch
// memory.
type ballSearch struct {
	*problem
	fork           *pairSearch // has the positions in the fork frame
	spotCache      vectorCache // by sample, see spots
	paths          []pathBounds
	bounds         []ballBounds // by part
	current        ballState
	pending        []pendingBallPair // in the order of the smallest gaps at their corners
	best           ballContact
	trial          stance.State[float64]
	bestState      stance.State[float64] // at the best contact
	trialPositions []plane.Vec[float64]
	tangents       []plane.Vec[complex128]
}

// ballState is the pair that is being searched.
type ballState struct {
	*ballPair
	index     int
	radii     float64 // sum of the radii of both parts, including the section of the wheel, mm
	limit     float64 // squared distance below which the gap is smaller than the smallest so far
	limitRoot float64 // its square root
	curvature float64 // of the paths of both parts, see pathBounds
}

// pendingBallPair is a pair that has been evaluated only at the ends of travel and steering.
type pendingBallPair struct {
	pair    int
	corners ballCorners
	gap     float64 // the smallest there, mm
}

// ballCorners holds the squared distances of a pair at the first and last sample of a cell, each at the first and last
// steering step; of a pair with the wheel, those from the axle too.
type ballCorners struct{ from, fromAxle corners }

func (k *ballSearch) prepare(of *problem, fork *pairSearch) {
	k.problem, k.fork = of, fork
	k.spotCache.clear(len(of.states))
	k.boundParts()
	k.best = ballContact{pair: -1, gap: math.Inf(1)}
}

// searchAll looks for a gap of any pair that is smaller than the smallest so far. The ends of travel and steering of
// all pairs come first, because gaps found there rule out much of what lies in between; then the pairs that are closest
// there.
func (k *ballSearch) searchAll() {
	k.pending = k.pending[:0]
	for i := range k.assembly.balls.pairs {
		if k.load(i); k.separated() {
			continue
		}
		o := pendingBallPair{pair: i, corners: k.corners()}
		o.gap = math.Sqrt(o.corners.from.least()) - k.current.radii
		k.pending = append(k.pending, o)
		for j := len(k.pending) - 1; j > 0 && o.gap < k.pending[j-1].gap; j-- {
			k.pending[j], k.pending[j-1] = k.pending[j-1], o
		}
	}
	for j := range k.pending {
		k.load(k.pending[j].pair)
		k.searchCell(&k.pending[j].corners)
	}
}

// searchPair looks for a gap of one pair that is smaller than the smallest so far.
func (k *ballSearch) searchPair(i int) {
	if k.load(i); !k.separated() {
		c := k.corners()
		k.searchCell(&c)
	}
}

// load makes a pair the current one.
func (k *ballSearch) load(i int) {
	n, p := &k.current, &k.assembly.balls.pairs[i]
	n.ballPair, n.index, n.radii = p, i, k.radii(i)
	n.curvature = k.bounds[p.a].curvature + k.bounds[p.b].curvature
	k.setLimit()
}

// setLimit sets the distance at which the gap of the current pair equals the smallest so far.
func (k *ballSearch) setLimit() {
	n := &k.current
	n.limitRoot = max(0, k.best.gap+n.radii)
	n.limit = n.limitRoot * n.limitRoot
}

// firstStep is the first steering step of the pair: straight ahead if the other side is its mirror image.
func (k *ballSearch) firstStep() int {
	if k.current.symmetric {
		return steerSteps / 2
	}
	return 0
}

// corners evaluates the pair at the ends of travel and steering.
func (k *ballSearch) corners() ballCorners {
	var c ballCorners
	for i, sample := range [2]int{0, k.last} {
		for j, step := range [2]int{k.firstStep(), steerSteps} {
			c.from[i][j], c.fromAxle[i][j] = k.evaluate(sample, step)
		}
	}
	return c
}

func (k *ballSearch) searchCell(c *ballCorners) {
	k.bisect(0, k.last, k.firstStep(), steerSteps, c)
}

// evaluate returns the squared distance of the pair at a sample and a steering step, and that from the axle of a pair with the
// wheel, and updates the smallest gap.
func (k *ballSearch) evaluate(sample, step int) (square, fromAxle float64) {
	n, r := &k.current, k.assembly
	spots, turn := k.spots(sample), &r.balls.turns[2*step]
	b := r.parts[n.b].axis(spots)
	b = b.Turned(turn.cos, -turn.sin)
	if n.wheelKind == ballSolid {
		a := r.parts[n.a].axis(spots)
		_, _, square = solid.Closest(&a, &b)
	} else {
		g := b.FromAxle(spots[r.parts[0].spots[0]])
		fromAxle = solid.SquareFrom(&g, solid.Spot[float64]{})
		_, square = r.closestOnWheel(&g, n.wheelKind == ballDisc)
	}
	if square < n.limit {
		if gap := math.Sqrt(square) - n.radii; gap < k.best.gap {
			k.best = ballContact{pair: n.index, sample: sample, travelMM: k.states[sample].TravelMM, steer: r.steerAngle(step), gap: gap}
			k.setLimit()
		}
	}
	return square, fromAxle
}

// ballDistance2 finds the closest points of a pair at a steering angle, and their squared distance.
func (r *Assembly) ballDistance2(c *ballContact, positions []plane.Vec[float64], axis *solid.Axis[float64], cos, sin float64) (square float64) {
	p := &r.balls.pairs[c.pair]
	b := segmentOf(&r.parts[p.b], positions)
	b = axis.Turned(&b, cos, -sin)
	if p.wheelKind == ballSolid {
		a := segmentOf(&r.parts[p.a], positions)
		c.on[0], c.on[1], square = solid.Closest(&a, &b)
		return square
	}
	g := b.FromAxle(positions[r.parts[0].ends[0].point])
	c.on[1], square = r.closestOnWheel(&g, p.wheelKind == ballDisc)
	return square
}

// radii is the sum of the radii of both parts of a pair, in mm.
func (k *ballSearch) radii(i int) float64 {
	p := &k.assembly.balls.pairs[i]
	return k.fork.radii[p.a] + k.fork.radii[p.b] + k.assembly.sectionRadius(p.wheelKind)
}

func (r *Assembly) ballGapAt(c *ballContact) Gap {
	return Gap{Pair: r.balls.pairs[c.pair].name, GapMM: c.gap, TravelMM: c.travelMM, SteerDeg: c.steer * 180 / math.Pi}
}
