package objectives

import (
	"math"

	"forkfront/kinematics"
)

// contact is where the two parts of a pair come closest.
type contact struct {
	pair     int // in pairs
	sample   int // nearest in travel
	travelMM float64
	steer    float64 // rad, positive to the left
	on       [2]float64
	web      bool // of the wheel: rim and spokes, not the tyre
	gap      float64
}

// clearing is one worker's memory for looking through a room.
type clearing struct {
	room   *Room
	subj   *Subject[float64]
	m      *kinematics.Mechanism
	places [][]kinematics.Vec[float64] // by sample, where filled
	filled []bool
	radii  []float64 // by part
	balls  []ball    // by part
	best   contact
	last   int // sample
	solver *kinematics.Motion
	trial  kinematics.State[float64]
	tried  []kinematics.Vec[float64]
}

// ball holds a part wherever it is over the travel.
type ball struct {
	middle kinematics.Spot[float64] // half way through the travel
	radius float64
	sway   float64 // how far its ends get from where they are then
	reach  float64 // farthest from the steering axis
}

// arc is how much longer than its chord the way of a point between two samples may be: that of an arc
// of 60 degrees, π/3.
const arc = math.Pi / 3

// set points the memory at a fork that was studied.
func (k *clearing) set(r *Room, s *Subject[float64], m *kinematics.Mechanism) {
	k.room, k.subj, k.m, k.last = r, s, m, len(s.States)-1
	k.places = grown(k.places, len(s.States))
	k.filled = grown(k.filled, len(s.States))
	clear(k.filled)
	k.radii, k.balls = grown(k.radii, len(r.parts)), grown(k.balls, len(r.parts))
	for i := range r.parts {
		k.radii[i] = radiusOf(s, &r.parts[i])
		k.balls[i] = k.ball(i)
	}
}

// radiusOf is a part's, sized where the fork has sizes.
func radiusOf[T kinematics.Scalar](s *Subject[T], p *part) T {
	switch {
	case p.member < 0:
		return kinematics.Lift[T](p.radius)
	case s.Conditions.Structure == nil:
		return kinematics.Lift[T](s.room.members[p.member])
	}
	return s.Sized.Members[p.member].DiameterMM * kinematics.Lift[T](0.5)
}

// at is where all points are at a sample.
func (k *clearing) at(sample int) []kinematics.Vec[float64] {
	if !k.filled[sample] {
		k.places[sample] = k.m.Places(k.places[sample][:0], &k.subj.States[sample], k.subj.layout)
		k.filled[sample] = true
	}
	return k.places[sample]
}

func (k *clearing) ball(i int) ball {
	p := &k.room.parts[i]
	g := segmentOf(p, k.at(k.last/2))
	var b ball
	b.middle = g.At(0.5)
	x, y, z := g[1].Along-b.middle.Along, g[1].Ahead-b.middle.Ahead, g[1].Left-b.middle.Left
	b.sway = arc * max(k.sway(p, k.last/2, 0), k.sway(p, k.last/2, k.last))
	b.radius = k.radii[i] + b.sway
	if p.wheel {
		b.radius += k.room.ring.RadiusMM + k.room.tube
	} else {
		b.radius += math.Sqrt(x*x + y*y + z*z)
	}
	for _, e := range g {
		b.reach = max(b.reach, e.Ahead*e.Ahead+e.Left*e.Left)
	}
	b.reach = math.Sqrt(b.reach) + b.sway
	return b
}

// sway is how far apart the ends of a part are at two samples.
func (k *clearing) sway(p *part, from, to int) float64 {
	if p.still || from == to {
		return 0
	}
	a, b := k.at(from), k.at(to)
	most := 0.0
	for i := range p.ends {
		if point := p.ends[i].point; point >= 0 {
			x, y := b[point].Along-a[point].Along, b[point].Ahead-a[point].Ahead
			most = max(most, x*x+y*y)
		}
	}
	return math.Sqrt(most)
}

// search looks for the smallest gap of all pairs of the kinds wanted; what is no better than best is
// passed over.
func (k *clearing) search(hub bool) {
	k.best = contact{pair: -1, gap: math.Inf(1)}
	for i := range k.room.pairs {
		if (k.room.pairs[i].kind == hubPair) == hub {
			k.pair(i)
		}
	}
	k.polish()
}

// pair looks for a gap of one pair that is smaller than the smallest so far.
func (k *clearing) pair(i int) {
	p := &k.room.pairs[i]
	a, b := &k.balls[p.a], &k.balls[p.b]
	if p.frame >= 0 {
		k.sweep(i)
		return
	}
	x, y, z := a.middle.Along-b.middle.Along, a.middle.Ahead-b.middle.Ahead, a.middle.Left-b.middle.Left
	if reach := k.best.gap + a.radius + b.radius; reach < 0 || x*x+y*y+z*z > reach*reach {
		return
	}
	mid := k.last / 2
	gap := k.look(i, mid, steerSteps/2)
	if p.rigid || gap-a.sway-b.sway >= k.best.gap {
		return
	}
	k.between(i, 0, mid, k.look(i, 0, steerSteps/2), gap)
	k.between(i, mid, k.last, gap, k.look(i, k.last, steerSteps/2))
}

// between looks at the samples between two that have been looked at.
func (k *clearing) between(i, from, to int, gapFrom, gapTo float64) {
	p := &k.room.pairs[i]
	if to-from < 2 {
		return
	}
	way := k.sway(&k.room.parts[p.a], from, to) + k.sway(&k.room.parts[p.b], from, to)
	if (gapFrom+gapTo-arc*way)/2 >= k.best.gap {
		return
	}
	mid := (from + to) / 2
	gap := k.look(i, mid, steerSteps/2)
	k.between(i, from, mid, gapFrom, gap)
	k.between(i, mid, to, gap, gapTo)
}

// look takes the gap of a pair at a sample and a step of steering, and keeps the smallest.
func (k *clearing) look(i, sample, step int) float64 {
	c := contact{pair: i, sample: sample, steer: k.room.steer(step)}
	p := &k.room.pairs[i]
	b := segmentOf(&k.room.parts[p.b], k.at(sample))
	if p.frame >= 0 {
		b = k.room.turned[p.frame].at[step]
	}
	k.measure(&c, k.at(sample), &b)
	if c.gap < k.best.gap {
		c.travelMM = k.subj.States[sample].TravelMM
		k.best = c
	}
	return c.gap
}

// measure finds where a pair is closest, its second part at b.
func (k *clearing) measure(c *contact, places []kinematics.Vec[float64], b *kinematics.Segment[float64]) {
	r := k.room
	p := &r.pairs[c.pair]
	radius := k.radii[p.a] + k.radii[p.b]
	if p.kind == solidPair {
		var square float64
		a := segmentOf(&r.parts[p.a], places)
		c.on[0], c.on[1], square = kinematics.Closest(&a, b)
		c.gap = math.Sqrt(square) - radius
		return
	}
	g := b.FromAxle(places[r.parts[0].ends[0].point])
	if p.kind == hubPair {
		c.on[1] = overHub(&g)
		c.gap = hubGap(r, &g, c.on[1]) - radius
		return
	}
	on, square := r.ring.Closest(&g)
	tyre := math.Sqrt(square) - r.tube
	web, square := r.ring.Web(&g, on)
	c.on[1], c.web, c.gap = on, false, tyre-radius
	if disc := math.Sqrt(square) - r.web; disc < tyre {
		c.on[1], c.web, c.gap = web, true, disc-radius
	}
}
