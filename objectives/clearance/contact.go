package clearance

import (
	"math"

	"forkfront/kinematics/plane"
	"forkfront/kinematics/solid"
)

// contact is where the two parts of a pair are closest.
type contact struct {
	pair       int // index of the pair
	sample     int // nearest in travel
	travelMM   float64
	steer      float64 // rad, positive to the left
	steerFound bool    // the steering angle was searched for, not known beforehand
	on         [2]float64
	gap        float64
}

// crossing is where two parts that reach through each other in the side view do so most deeply.
type crossing struct {
	pair, sample int
	leaving      int     // end that leaves the other part, see solid.CrossingDepth; of the wheel's ring, inwards; or outwards, intoDisc
	on           float64 // where the part is nearest to the axle, as a fraction of its length
	counted      float64 // depth in mm, as far as it counts
}

// Ways for a part to leave the wheel outwards, in place of an end that leaves the ring inwards.
const (
	outwards = -1 // of the ring that it touches
	intoDisc = -2 // of the disc within
)

// measure finds the closest points of a pair at given positions and the steering angle of a contact, and returns the
// axis of its second part.
func (k *pairSearch) measure(c *contact, spots []plane.Vec[float64]) solid.Segment[float64] {
	p := &k.assembly.pairs[c.pair]
	b := k.assembly.parts[p.b].axis(spots)
	if c.steerFound {
		b = k.assembly.frameAt(p, c.steer)
	}
	k.gap(c, spots, &b)
	return b
}

// gap finds the closest points of a pair and their gap; b is the axis of its second part.
func (k *pairSearch) gap(c *contact, spots []plane.Vec[float64], b *solid.Segment[float64]) {
	r := k.assembly
	p := &r.pairs[c.pair]
	radii := k.radii[p.a] + k.radii[p.b] + p.section
	var square float64
	if p.kind == solidPair {
		a := r.parts[p.a].axis(spots)
		c.on[0], c.on[1], square = solid.Closest(&a, b)
		c.gap = math.Sqrt(square) - radii
		return
	}
	g := b.FromAxle(spots[r.parts[0].spots[0]])
	if p.kind == hubPair {
		c.on[1] = nearestToAxle(&g)
		c.gap = hubGap(&r.drum, &g, c.on[1]) - radii
		return
	}
	c.on[1], square = r.closestOnWheel(&g, p.kind == discPair)
	c.gap = math.Sqrt(square) - radii
}

// normal returns the unit vector in which the gap of a contact grows when its second part moves, and the closest
// point on that part. Where the axes intersect it is zero.
func (k *pairSearch) normal(c *contact, spots []plane.Vec[float64], b *solid.Segment[float64]) (n, onB solid.Spot[float64]) {
	r := k.assembly
	p := &r.pairs[c.pair]
	onB = b.At(c.on[1])
	var onA solid.Spot[float64]
	if p.kind == solidPair {
		a := r.parts[p.a].axis(spots)
		onA = a.At(c.on[0])
	} else {
		onA = r.spotOnWheel(p.kind, spots[r.parts[0].spots[0]], onB)
	}
	n = solid.Spot[float64]{Along: onB.Along - onA.Along, Ahead: onB.Ahead - onA.Ahead, Left: onB.Left - onA.Left}
	if length := math.Sqrt(n.Along*n.Along + n.Ahead*n.Ahead + n.Left*n.Left); length > 1e-9 {
		n.Along, n.Ahead, n.Left = n.Along/length, n.Ahead/length, n.Left/length
		return n, onB
	}
	return solid.Spot[float64]{}, onB
}

// spotOnWheel is the point of the wheel that is closest to a point of a part: on the ring of the tyre, on the disc,
// or on the face of hub and rotor.
func (r *Assembly) spotOnWheel(kind pairKind, axle plane.Vec[float64], spot solid.Spot[float64]) solid.Spot[float64] {
	x, y := spot.Along-axle.Along, spot.Ahead-axle.Ahead
	q := math.Hypot(x, y)
	reach, left := r.ring.RadiusMM, 0.0
	if kind == hubPair {
		reach, left = r.drum.radius, max(-r.drum.halfWidth, min(r.drum.halfWidth, spot.Left))
	}
	if q == 0 || kind != ringPair && q <= reach {
		return solid.Spot[float64]{Along: spot.Along, Ahead: spot.Ahead, Left: left}
	}
	return solid.Spot[float64]{Along: axle.Along + x*reach/q, Ahead: axle.Ahead + y*reach/q, Left: left}
}

// velocityAt is the derivative by travel of the position of a point on a part, at a fraction of its length.
func (p *part) velocityAt(rates []plane.Vec[float64], on float64) plane.Vec[float64] {
	v, w := rates[p.spots[0]], rates[p.spots[1]]
	return plane.Vec[float64]{Along: v.Along + on*(w.Along-v.Along), Ahead: v.Ahead + on*(w.Ahead-v.Ahead)}
}

// slope evaluates a contact at given positions and its steering angle, and returns the derivative of the gap by
// travel.
func (k *pairSearch) slope(c *contact, spots, rates []plane.Vec[float64]) float64 {
	p := &k.assembly.pairs[c.pair]
	b := k.measure(c, spots)
	n, _ := k.normal(c, spots, &b)
	va, vb := k.assembly.parts[p.a].velocityAt(rates, c.on[0]), k.assembly.parts[p.b].velocityAt(rates, c.on[1])
	return n.Along*(vb.Along-va.Along) + n.Ahead*(vb.Ahead-va.Ahead)
}
