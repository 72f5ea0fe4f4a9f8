package objectives

import (
	"math"

	"forkfront/kinematics"
)

// Gap is how far two parts stay apart at least, and where in travel and steering.
type Gap struct {
	Pair     string  `json:"pair"`
	GapMM    float64 `json:"gap_mm"`
	TravelMM float64 `json:"travel_mm"`
	SteerDeg float64 `json:"steer_deg"` // positive to the left
}

// clear looks through the room of the fork that was studied and sized.
func (sc *Scorer) clear(d *Design) {
	s := &sc.plain
	s.room = d.Room
	if s.Missing[NeedPackage] = s.crowded(d); s.Missing[NeedPackage] != "" {
		return
	}
	k := &sc.clearing
	k.solver = &sc.motion
	k.set(d.Room, s, d.Mechanism)
	k.search(true)
	s.hub = k.best
	s.atHub.Copy(&s.near)
	k.search(false)
	s.closest = k.best
	sc.swing()
}

// crowded tells why a fork can have no clearance, or is empty.
func (s *Subject[T]) crowded(d *Design) string {
	switch {
	case s.Missing[NeedTravel] != "":
		return s.Missing[NeedTravel]
	case d.Room == nil:
		return "no package is given"
	case d.Room.Missing != "":
		return d.Room.Missing
	case s.Conditions.Structure != nil:
		return s.Missing[NeedStructure]
	}
	return ""
}

// Gaps lists every pair of parts of the design scored last with its smallest gap. What it finds for
// the closest pair is what the score has.
func (sc *Scorer) Gaps() []Gap {
	s, k := &sc.plain, &sc.clearing
	if s.Missing[NeedPackage] != "" {
		return nil
	}
	var all []Gap
	for i := range k.room.pairs {
		k.best = contact{pair: -1, gap: math.Inf(1)}
		k.pair(i)
		k.polish()
		all = append(all, k.room.gap(&k.best))
	}
	s.near.Copy(&s.States[0])
	sc.clear(s.design)
	return append(all, sc.swungGaps()...)
}

func (r *Room) gap(c *contact) Gap {
	g := Gap{Pair: r.pairs[c.pair].name, GapMM: c.gap, TravelMM: c.travelMM}
	if r.pairs[c.pair].frame >= 0 {
		g.SteerDeg = c.steer * 180 / math.Pi
	}
	return g
}

// gapOf is the gap of a contact at the state where it was found, with a derivative where that has
// one. Travel, steering angle and the spots of contact need none: the gap is smallest over all of
// them (envelope theorem).
func gapOf[T kinematics.Scalar](s *Subject[T], c *contact, places []vec[T]) T {
	r := s.room
	p := &r.pairs[c.pair]
	b := segmentOf(&r.parts[p.b], places)
	if p.frame >= 0 {
		sin, cos := math.Sincos(c.steer)
		b = b.Turned(cos, -sin)
	}
	radii := radiusOf(s, &r.parts[p.a]) + radiusOf(s, &r.parts[p.b])
	if p.kind == solidPair {
		a := segmentOf(&r.parts[p.a], places)
		return kinematics.Apart(&a, &b, c.on[0], c.on[1]) - radii
	}
	g := b.FromAxle(places[r.parts[0].ends[0].point])
	switch {
	case p.kind == hubPair:
		return hubGap(r, &g, c.on[1]) - radii
	case c.web:
		return kinematics.WebApart(r.ring, &g, c.on[1]) - kinematics.Lift[T](r.web) - radii
	}
	return kinematics.RingApart(r.ring, &g, c.on[1]) - kinematics.Lift[T](r.tube) - radii
}

func clearance(s *Subject[float64]) float64 { return min(s.closest.gap, s.swung.gap) }

func hubClearance(s *Subject[float64]) float64 { return s.hub.gap }

func clearanceSlope(s *Subject[complex128]) complex128 {
	if s.trace.plain.swung.gap < s.trace.plain.closest.gap {
		return s.swungSlope()
	}
	return s.gapSlope(&s.trace.plain.closest, &s.trace.plain.near)
}

func hubSlope(s *Subject[complex128]) complex128 {
	return s.gapSlope(&s.trace.plain.hub, &s.trace.plain.atHub)
}

func (s *Subject[T]) gapSlope(c *contact, from *kinematics.State[float64]) complex128 {
	tangent := any(s).(*Subject[complex128])
	tr := tangent.trace
	tr.shadow.Follow(&tangent.near, nil, from, complex(from.TravelMM, 0))
	tr.places = kinematics.Places(tangent.design.Mechanism, tr.places[:0], &tangent.near, tr.layout)
	return gapOf(tangent, c, tr.places)
}
