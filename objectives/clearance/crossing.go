package clearance

import (
	"math"

	"forkfront/kinematics"
	"forkfront/kinematics/mechanism"
	"forkfront/kinematics/plane"
	"forkfront/kinematics/solid"
)

// countedMM is the overlap across the mid-plane, measured from the gap that is wanted, from which the depth of a crossing counts
// in full. With less it counts in part, as parts whose lanes are far enough apart may cross.
const countedMM = 5

// Crossing is by how much the parts that reach through each other in the side view, or into the wheel, would have to be moved
// apart, in mm: the greatest depth of all pairs over the travel. The gap of such parts is that of their lanes, however deep they
// reach. Pairs with a gap of wantedMM between their lanes may cross and do not count. Crossing is continuous in the points and radii, and 0
// where no parts reach through each other.
func (sc *Search) Crossing(wantedMM float64) float64 {
	k := &sc.pairs
	if sc.crossed && sc.crossedFor == wantedMM {
		return k.deepest.counted
	}
	sc.crossed, sc.crossedFor = true, wantedMM
	var samples [surveyCount]int
	picked := k.surveySamples(&samples)
	k.deepest = crossing{}
	for _, i := range k.assembly.reaching {
		p := &k.assembly.pairs[i]
		if !k.apartInPlane(p) && k.radii[p.a]+k.radii[p.b]+p.section+wantedMM > p.lateral {
			k.compareDepths(i, picked, wantedMM)
		}
	}
	return k.deepest.counted
}

// CrossingDerivative is Crossing with its derivative. Pair, sample, end and place of the crossing need not be differentiated, because
// the depth is the largest or the least over all of them (envelope theorem).
func (sc *Search) CrossingDerivative(by *Tangent, wantedMM float64) complex128 {
	if sc.Crossing(wantedMM) == 0 {
		return 0
	}
	r, c := sc.assembly, &sc.pairs.deepest
	from := &sc.states[c.sample]
	by.Motion.Differentiate(&sc.tangentState, nil, from, complex(from.TravelMM, 0))
	sc.tangentPositions = mechanism.Positions(sc.m, sc.tangentPositions[:0], &sc.tangentState, by.Layout)
	p := &r.pairs[c.pair]
	radii := radiusOf(&r.parts[p.a], by.Members) + radiusOf(&r.parts[p.b], by.Members)
	a, b := segmentOf(&r.parts[p.a], sc.tangentPositions), segmentOf(&r.parts[p.b], sc.tangentPositions)
	return counted(r, c, radii, wantedMM) * depthAt(r, c, inPlane(&a), inPlane(&b))
}

// apartInPlane reports whether the bounds of a pair are apart in the side view.
func (k *pairSearch) apartInPlane(p *pair) bool {
	a, b := &k.bounds[p.a], &k.bounds[p.b]
	return math.Abs(a.middle.Along-b.middle.Along) > a.half.Along+b.half.Along+p.wheelRadius ||
		math.Abs(a.middle.Ahead-b.middle.Ahead) > a.half.Ahead+b.half.Ahead+p.wheelRadius
}

// compareDepths compares the crossings of a pair at some samples with the deepest so far.
func (k *pairSearch) compareDepths(i int, samples []int, wantedMM float64) {
	r, p := k.assembly, &k.assembly.pairs[i]
	a, b := &r.parts[p.a], &r.parts[p.b]
	radii := k.radii[p.a] + k.radii[p.b]
	try := func(c crossing, depth float64) {
		if depth > k.deepest.counted {
			if c.counted = counted(r, &c, radii, wantedMM) * depth; c.counted > k.deepest.counted {
				k.deepest = c
			}
		}
	}
	if p.rigid {
		samples = samples[:1]
	}
	for _, sample := range samples {
		spots := k.positions(sample)
		from, to := spots[b.spots[0]], spots[b.spots[1]]
		c := crossing{pair: i, sample: sample}
		if p.kind == solidPair {
			var depth float64
			depth, c.leaving = solid.CrossingDepth(spots[a.spots[0]], spots[a.spots[1]], from, to)
			try(c, depth)
			continue
		}
		axle := spots[a.spots[0]]
		var depth float64
		if depth, c.on = r.ring.DepthInDisc(axle, from, to); depth > 0 {
			c.leaving = intoDisc
			try(c, depth)
			inwards := plane.Distance(from, axle) - r.ring.RadiusMM
			c.leaving = 0
			if other := plane.Distance(to, axle) - r.ring.RadiusMM; other > inwards {
				inwards, c.leaving = other, 1
			}
			if inwards > depth {
				inwards, c.leaving = depth, outwards
			}
			try(c, inwards)
		}
	}
}

// counted is the share of the depth of a crossing that counts, from 0 to 1.
func counted[T kinematics.Scalar](r *Assembly, c *crossing, radii T, wantedMM float64) T {
	p := &r.pairs[c.pair]
	section := p.section
	if c.leaving == intoDisc {
		section = r.discHalfWidth
	}
	share := (radii + kinematics.Lift[T](section+wantedMM-p.lateral)) * kinematics.Lift[T](1./countedMM)
	switch of := kinematics.Real(share); {
	case !(of > 0):
		return kinematics.Lift[T](0)
	case of > 1:
		return kinematics.Lift[T](1)
	}
	return share
}

// depthAt is the depth of a crossing, in mm, at given axes of its parts in the side view; of the wheel, a is the axle.
func depthAt[T kinematics.Scalar](r *Assembly, c *crossing, a, b [2]plane.Vec[T]) T {
	if r.pairs[c.pair].kind == solidPair {
		return solid.DepthOfEnd(a[0], a[1], b[0], b[1], c.leaving)
	}
	at := b[0].Plus(b[1].Minus(b[0]).Times(kinematics.Lift[T](c.on)))
	if c.leaving >= 0 {
		at = b[c.leaving]
	}
	off := at.Minus(a[0])
	square := off.Dot(off)
	if kinematics.Real(square) < minimalMM2 {
		return kinematics.Lift[T](r.ring.RadiusMM) // a part through the axle leaves the wheel in any direction
	}
	depth := kinematics.Lift[T](r.ring.RadiusMM) - kinematics.Sqrt(square)
	if c.leaving >= 0 {
		return -depth
	}
	return depth
}

// minimalMM2 is the square of a distance from the axle below which it has no direction.
const minimalMM2 = 1e-12

func inPlane[T kinematics.Scalar](g *solid.Segment[T]) [2]plane.Vec[T] {
	return [2]plane.Vec[T]{{Along: g[0].Along, Ahead: g[0].Ahead}, {Along: g[1].Along, Ahead: g[1].Ahead}}
}
