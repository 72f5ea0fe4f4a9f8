package clearance

import (
	"math"
	"slices"

	"forkfront/kinematics"
	"forkfront/kinematics/plane"
	"forkfront/kinematics/solid"
	"forkfront/objectives/fork"
)

// ballRoom is what a room has beside the pairs of others where a fork steers about two ball joints:
// what hangs together with the wheel turns about their axis, which moves with travel, and all else
// stays with the frame. Here each part of the one kind is held against each of the other.
type ballRoom struct {
	m            *kinematics.Mechanism
	lower, upper int // points of the balls
	pairs        []ballPair
}

// ballPair is a part that steers and one that does not.
type ballPair struct {
	a, b    int // in parts; a steers
	kind    ballKind
	oneSide bool // steering to the right is the mirror image of steering to the left
	name    string
}

// ballKind tells what of the wheel is held against the other part.
type ballKind int

const (
	ballSolid ballKind = iota // a is no wheel
	ballTyre
	ballWeb // rim and spokes
)

// thick is how far what is meant reaches around its circle or disc.
func (r *Room) thick(kind ballKind) float64 {
	switch kind {
	case ballTyre:
		return r.tube
	case ballWeb:
		return r.web
	}
	return 0
}

// onBalls makes a room that of a fork on ball joints, where it is one, before its parts are paired.
// There is no crown then: what would be bolted to it has nowhere to go.
func (r *Room) onBalls(p *fork.Package, m *kinematics.Mechanism) {
	lower, upper, ok := m.Balls()
	if !ok {
		return
	}
	r.balls = &ballRoom{m: m, lower: lower, upper: upper}
	if len(p.Steered) > 0 {
		r.Missing = "a fork that steers about ball joints has no crown to bolt parts to"
	}
	upperEye, _ := m.ShockEnd(0)
	lowerEye, _ := m.ShockEnd(1)
	if m.HasShock() && m.Steers(upperEye) != m.Steers(lowerEye) {
		r.Missing = "one end of the shock steers and the other does not, so it would have to twist"
	}
	r.parts = slices.DeleteFunc(r.parts, func(q part) bool { return slices.Contains(q.bodies, onCrown) })
}

// steers tells whether a part turns with the wheel. A ball's own shaft does, with the body that it
// carries the axis of.
func (b *ballRoom) steers(p *part) bool {
	if p.wheel {
		return true
	}
	if len(p.bodies) == 0 && len(p.points) == 2 { // the shock
		eye, _ := b.m.ShockEnd(0)
		return b.m.Steers(eye)
	}
	return slices.ContainsFunc(p.bodies, b.m.Steers)
}

// taken tells whether a pair is one that needs no looking at without steering: it is held about the
// balls, or it is a pin on the frame and the frame itself. The hub is deep within the wheel, and only
// what steers is beside it.
func (b *ballRoom) taken(r *Room, i, k int, hub bool) bool {
	p, q := &r.parts[i], &r.parts[k]
	if one, two := b.steers(p), b.steers(q); one != two {
		if hub {
			return true
		}
		if two {
			i, k, p, q = k, i, q, p
		}
		b.add(r, i, k, p, q)
		return true
	}
	return len(q.points) == 0 && slices.Contains(p.bodies, b.m.Ground())
}

// add holds a part that steers against one that does not, and where both have another one on the other
// side, crosswise too.
func (b *ballRoom) add(r *Room, i, k int, p, q *part) {
	one := ballPair{a: i, b: k, oneSide: p.central() && q.central(), name: p.name + " / " + q.name}
	if p.wheel {
		one.kind = ballTyre
		b.pairs = append(b.pairs, one)
		one.kind = ballWeb
	}
	b.pairs = append(b.pairs, one)
	switch {
	case q.twin && !p.central():
		one.b = r.twin(k)
	case p.twin && !q.central():
		one.a = r.twin(i)
	default:
		return
	}
	b.pairs = append(b.pairs, one)
}

// axis is the steering axis where the points are.
func axisOf[T kinematics.Scalar](b *ballRoom, places []plane.Vec[T]) solid.Axis[T] {
	return solid.AxisThrough(places[b.lower], places[b.upper])
}

// swung is where two parts of a ball pair come closest.
type swung struct {
	pair     int // of the ball room; −1: none comes closer than other pairs do
	sample   int // nearest in travel
	travelMM float64
	steer    float64 // rad, positive to the left
	on       [2]float64
	gap      float64
}

// swungGap is the gap at a contact, at the cosine and sine of a steering angle, where the points of the
// mechanism are. What does not steer is looked at from what does.
func swungGap[T kinematics.Scalar](r *Room, c *swung, places []plane.Vec[T], cos, sin, radii T) T {
	p := &r.balls.pairs[c.pair]
	a, b := segmentOf(&r.parts[p.a], places), segmentOf(&r.parts[p.b], places)
	axis := axisOf(r.balls, places)
	b = axis.Turned(&b, cos, -sin)
	radii += kinematics.Lift[T](r.thick(p.kind))
	if p.kind == ballSolid {
		return solid.SegmentDistance(&a, &b, c.on[0], c.on[1]) - radii
	}
	g := b.FromAxle(places[r.parts[0].ends[0].point])
	if p.kind == ballWeb {
		return solid.DiscDistance(r.ring, &g, c.on[1]) - radii
	}
	return solid.RingDistance(r.ring, &g, c.on[1]) - radii
}

func (r *Room) swungAt(c *swung) Gap {
	return Gap{Pair: r.balls.pairs[c.pair].name, GapMM: c.gap, TravelMM: c.travelMM, SteerDeg: c.steer * 180 / math.Pi}
}
