package clearance

import (
	"math"

	"forkfront/kinematics"
	"forkfront/kinematics/plane"
	"forkfront/kinematics/solid"
)

// Tangent is a fork with its derivative along one direction of its layout.
type Tangent struct {
	Shadow  *kinematics.Tangent
	Layout  []plane.Vec[complex128] // by point, mm
	Members []complex128            // radius by member, mm
}

// ClearanceSlope is Clearance with its derivative.
func (sc *Search) ClearanceSlope(by *Tangent) complex128 {
	if sc.swung.gap < sc.closest.gap {
		return sc.swungSlope(by)
	}
	return sc.gapSlope(&sc.closest, by)
}

// HubSlope is HubClearance with its derivative.
func (sc *Search) HubSlope(by *Tangent) complex128 { return sc.gapSlope(&sc.hub, by) }

// gapSlope is the gap of a contact with its derivative. Travel, steering angle and the spots of contact
// need none: the gap is smallest over all of them (envelope theorem).
func (sc *Search) gapSlope(c *contact, by *Tangent) complex128 {
	if c.pair < 0 {
		return 0
	}
	if from := &sc.states[c.sample]; from.TravelMM == c.travelMM {
		by.Shadow.Differentiate(&sc.near, nil, from, complex(c.travelMM, 0))
	} else if !by.Shadow.Solve(&sc.near, nil, complex(c.travelMM, 0)) {
		return 0
	}
	sc.nearPlaces = kinematics.Positions(sc.m, sc.nearPlaces[:0], &sc.near, by.Layout)
	return gapOf(sc.room, c, sc.nearPlaces, by.Members)
}

// gapOf is the gap of a contact where the points of the mechanism are.
func gapOf(r *Room, c *contact, places []plane.Vec[complex128], members []complex128) complex128 {
	p := &r.pairs[c.pair]
	a, b := segmentOf(&r.parts[p.a], places), segmentOf(&r.parts[p.b], places)
	if c.swept {
		sin, cos := math.Sincos(c.steer)
		b = segmentOf(&r.parts[r.turned[p.frame].part], places)
		b = b.Turned(cos, -sin)
	}
	radii := radiusOf(&r.parts[p.a], members) + radiusOf(&r.parts[p.b], members) + complex(p.thick, 0)
	plain := valueOf(&b)
	if p.kind == solidPair {
		onA, onB, _ := solid.Closest(valueOf(&a), plain)
		return solid.SegmentDistance(&a, &b, onA, onB) - radii
	}
	g := b.FromAxle(places[r.parts[0].ends[0].point])
	plain = valueOf(&g)
	switch p.kind {
	case hubPair:
		return hubGap(&r.drum, &g, overHub(plain)) - radii
	case webPair:
		on, _ := r.ring.Closest(plain)
		on, _ = r.ring.ClosestOnDisc(plain, on)
		return solid.DiscDistance(r.ring, &g, on) - radii
	}
	on, _ := r.ring.Closest(plain)
	return solid.RingDistance(r.ring, &g, on) - radii
}

// valueOf is a segment without its derivative.
func valueOf(g *solid.Segment[complex128]) *solid.Segment[float64] {
	var v solid.Segment[float64]
	for i := range g {
		v[i] = solid.Spot[float64]{Along: real(g[i].Along), Ahead: real(g[i].Ahead), Left: real(g[i].Left)}
	}
	return &v
}
