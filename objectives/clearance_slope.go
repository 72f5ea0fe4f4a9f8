package objectives

import (
	"math"

	"forkfront/kinematics"
	"forkfront/kinematics/solid"
)

func clearanceSlope(s *Subject[complex128]) complex128 {
	if s.trace.plain.swung.gap < s.trace.plain.closest.gap {
		return s.swungSlope()
	}
	return s.gapSlope(&s.trace.plain.closest)
}

func hubSlope(s *Subject[complex128]) complex128 { return s.gapSlope(&s.trace.plain.hub) }

// gapSlope is the gap of a contact with its derivative. Travel, steering angle and the spots of contact
// need none: the gap is smallest over all of them (envelope theorem).
func (s *Subject[T]) gapSlope(c *contact) complex128 {
	tangent := any(s).(*Subject[complex128])
	tr := tangent.trace
	if c.pair < 0 {
		return 0
	}
	if from := &tr.plain.States[c.sample]; from.TravelMM == c.travelMM {
		tr.shadow.Differentiate(&tangent.near, nil, from, complex(c.travelMM, 0))
	} else if !tr.shadow.Solve(&tangent.near, nil, complex(c.travelMM, 0)) {
		return 0
	}
	tr.places = kinematics.Positions(tangent.design.Mechanism, tr.places[:0], &tangent.near, tr.layout)
	return gapOf(tangent, c, tr.places)
}

// gapOf is the gap of a contact where the points of the mechanism are.
func gapOf(s *Subject[complex128], c *contact, places []vec[complex128]) complex128 {
	r := s.room
	p := &r.pairs[c.pair]
	a, b := segmentOf(&r.parts[p.a], places), segmentOf(&r.parts[p.b], places)
	if c.swept {
		sin, cos := math.Sincos(c.steer)
		b = segmentOf(&r.parts[r.turned[p.frame].part], places)
		b = b.Turned(cos, -sin)
	}
	radii := radiusOf(s, &r.parts[p.a]) + radiusOf(s, &r.parts[p.b]) + complex(p.thick, 0)
	plain := valueOf(&b)
	if p.kind == solidPair {
		onA, onB, _ := solid.Closest(valueOf(&a), plain)
		return solid.SegmentDistance(&a, &b, onA, onB) - radii
	}
	g := b.FromAxle(places[r.parts[0].ends[0].point])
	plain = valueOf(&g)
	switch p.kind {
	case hubPair:
		return hubGap(r, &g, overHub(plain)) - radii
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
