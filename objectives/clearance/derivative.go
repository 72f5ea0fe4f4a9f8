package clearance

import (
	"math"

	"forkfront/kinematics"
	"forkfront/kinematics/mechanism"
	"forkfront/kinematics/plane"
	"forkfront/kinematics/solid"
)

// Tangent is a fork with its derivative along one direction of its layout: imaginary parts are derivatives times
// scalar.Step.
type Tangent struct {
	Motion  *kinematics.Tangent
	Layout  []plane.Vec[complex128] // by point, mm
	Members []complex128            // radius by member, mm
}

// ClearanceDerivative is Clearance with its derivative.
func (sc *Search) ClearanceDerivative(by *Tangent) complex128 {
	if sc.ballClosest.gap < sc.closest.gap {
		return sc.ballDerivative(by)
	}
	return sc.gapDerivative(&sc.closest, by)
}

// HubDerivative is HubClearance with its derivative.
func (sc *Search) HubDerivative(by *Tangent) complex128 { return sc.gapDerivative(&sc.hub, by) }

// gapDerivative is the gap of a contact with its derivative. Travel, steering angle and the points of contact need
// not be differentiated, because the gap is smallest over all of them (envelope theorem).
func (sc *Search) gapDerivative(c *contact, by *Tangent) complex128 {
	if c.pair < 0 {
		return 0
	}
	if from := &sc.states[c.sample]; from.TravelMM == c.travelMM {
		by.Motion.Differentiate(&sc.tangentState, nil, from, complex(c.travelMM, 0))
	} else if !by.Motion.Solve(&sc.tangentState, nil, complex(c.travelMM, 0)) {
		return 0
	}
	sc.tangentPositions = mechanism.Positions(sc.m, sc.tangentPositions[:0], &sc.tangentState, by.Layout)
	return gapWithDerivative(sc.assembly, c, sc.tangentPositions, by.Members)
}

// gapWithDerivative is the gap of a contact at given positions of the points of the mechanism.
func gapWithDerivative(r *Assembly, c *contact, positions []plane.Vec[complex128], members []complex128) complex128 {
	p := &r.pairs[c.pair]
	a, b := segmentOf(&r.parts[p.a], positions), segmentOf(&r.parts[p.b], positions)
	if c.steerFound {
		sin, cos := math.Sincos(c.steer)
		b = segmentOf(&r.parts[r.frameParts[p.frame].part], positions)
		b = b.Turned(cos, -sin)
	}
	radii := radiusOf(&r.parts[p.a], members) + radiusOf(&r.parts[p.b], members) + complex(p.section, 0)
	plain := realPart(&b)
	if p.kind == solidPair {
		onA, onB, _ := solid.Closest(realPart(&a), plain)
		return solid.SegmentDistance(&a, &b, onA, onB) - radii
	}
	g := b.FromAxle(positions[r.parts[0].ends[0].point])
	plain = realPart(&g)
	switch p.kind {
	case hubPair:
		return hubGap(&r.drum, &g, nearestToAxle(plain)) - radii
	case discPair:
		on, _ := r.ring.Closest(plain)
		on, _ = r.ring.ClosestOnDisc(plain, on)
		return solid.DiscDistance(r.ring, &g, on) - radii
	}
	on, _ := r.ring.Closest(plain)
	return solid.RingDistance(r.ring, &g, on) - radii
}

// realPart is a segment without its derivative.
func realPart(g *solid.Segment[complex128]) *solid.Segment[float64] {
	var v solid.Segment[float64]
	for i := range g {
		v[i] = solid.Spot[float64]{Along: real(g[i].Along), Ahead: real(g[i].Ahead), Left: real(g[i].Left)}
	}
	return &v
}

// ballDerivative is the smallest gap of the ball pairs with its derivative; see gapDerivative.
func (sc *Search) ballDerivative(by *Tangent) complex128 {
	c := &sc.ballClosest
	by.Motion.Differentiate(&sc.tangentState, nil, &sc.ballState, complex(c.travelMM, 0))
	sc.tangentPositions = mechanism.Positions(sc.m, sc.tangentPositions[:0], &sc.tangentState, by.Layout)
	p := &sc.assembly.balls.pairs[c.pair]
	sin, cos := math.Sincos(c.steer)
	radii := radiusOf(&sc.assembly.parts[p.a], by.Members) + radiusOf(&sc.assembly.parts[p.b], by.Members)
	return ballGap(sc.assembly, c, sc.tangentPositions, complex(cos, 0), complex(sin, 0), radii)
}
