package clearance

import (
	"math"
	"slices"

	"forkfront/kinematics"
	"forkfront/kinematics/mechanism"
	"forkfront/kinematics/plane"
	"forkfront/kinematics/solid"
	"forkfront/objectives/fork"
)

// ballJoints has the pairs of a fork that steers about two ball joints, in addition to those of its assembly: what is
// connected with the wheel turns about their axis, which moves with the travel, and everything else stays with the
// frame. Each part of the first kind is paired with each of the second.
type ballJoints struct {
	m            *mechanism.Mechanism
	lower, upper int // points of the ball joints
	pairs        []ballPair
	turns        [2*steerSteps + 1]turned // by half steering steps
	steered      []int                    // parts of the pairs that steer
	others       []int                    // and those that do not
	spots        []int                    // indices of the positions of both
}

// turned is the cosine and sine of an angle.
type turned struct{ cos, sin float64 }

// ballPair is a pair of a part that steers and one that does not.
type ballPair struct {
	a, b      int // indices of parts; a steers
	wheelKind ballPairKind
	symmetric bool // steering to the right is the mirror image of steering to the left
	name      string
}

// ballPairKind is what of the wheel is compared with the other part.
type ballPairKind int

const (
	ballSolid ballPairKind = iota // a is not the wheel
	ballRing
	ballDisc // rim and spokes
)

// sectionRadius is the radius of the tyre's section, or half the thickness of the disc, in mm; 0 for a solid part.
func (r *Assembly) sectionRadius(kind ballPairKind) float64 {
	switch kind {
	case ballRing:
		return r.tyreRadius
	case ballDisc:
		return r.discHalfWidth
	}
	return 0
}

// setBallJoints prepares the assembly of a fork that steers about ball joints, before its parts are paired; other
// forks are left unchanged. Such a fork has no crown, so that nothing can be bolted to it.
func (r *Assembly) setBallJoints(p *fork.Package, m *mechanism.Mechanism) {
	lower, upper, ok := m.Balls()
	if !ok {
		return
	}
	r.balls = &ballJoints{m: m, lower: lower, upper: upper}
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

// steers reports whether a part turns with the wheel. The shaft of a ball joint does, together with the body that it
// belongs to.
func (b *ballJoints) steers(p *part) bool {
	if p.wheel {
		return true
	}
	if len(p.bodies) == 0 && len(p.points) == 2 { // the shock
		eye, _ := b.m.ShockEnd(0)
		return b.m.Steers(eye)
	}
	return slices.ContainsFunc(p.bodies, b.m.Steers)
}

// handles reports whether a pair needs no search without steering: either it is a ball pair, which handles adds, or
// it is a pin on the frame and the frame itself. The hub is inside the wheel, and only what steers is beside it.
func (b *ballJoints) handles(r *Assembly, i, k int, hub bool) bool {
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

// add adds the pairs of a part that steers and one that does not, and if both exist on either side, the diagonal pair
// too.
func (b *ballJoints) add(r *Assembly, i, k int, p, q *part) {
	one := ballPair{a: i, b: k, symmetric: p.central() && q.central(), name: p.name + " / " + q.name}
	if p.wheel {
		one.wheelKind = ballRing
		b.pairs = append(b.pairs, one)
		one.wheelKind = ballDisc
	}
	b.pairs = append(b.pairs, one)
	switch {
	case q.paired && !p.central():
		one.b = r.addMirrored(k)
	case p.paired && !q.central():
		one.a = r.addMirrored(i)
	default:
		return
	}
	b.pairs = append(b.pairs, one)
}

// prepare completes the ball joints once all pairs have been added.
func (b *ballJoints) prepare(r *Assembly) {
	for i := range b.turns {
		sin, cos := math.Sincos(r.lock * float64(i-steerSteps) / steerSteps)
		b.turns[i] = turned{cos, sin}
	}
	add := func(to *[]int, i int) {
		if !slices.Contains(*to, i) {
			*to = append(*to, i)
		}
	}
	for i := range b.pairs {
		p := &b.pairs[i]
		add(&b.steered, p.a)
		add(&b.others, p.b)
		for _, part := range [2]int{p.a, p.b} {
			add(&b.spots, r.parts[part].spots[0])
			add(&b.spots, r.parts[part].spots[1])
		}
	}
}

// axisOf is the steering axis at given positions of the points.
func axisOf[T kinematics.Scalar](b *ballJoints, positions []plane.Vec[T]) solid.Axis[T] {
	return solid.AxisThrough(positions[b.lower], positions[b.upper])
}

// ballContact is where two parts of a ball pair come closest.
type ballContact struct {
	pair     int // of the ball room; −1: none comes closer than other pairs do
	sample   int // nearest in travel
	travelMM float64
	steer    float64 // rad, positive to the left
	on       [2]float64
	gap      float64
}

// ballGap is the gap at a contact, in mm, at the cosine and sine of a steering angle and given positions of the
// points. The part that does not steer is rotated into the frame of the one that does.
func ballGap[T kinematics.Scalar](r *Assembly, c *ballContact, positions []plane.Vec[T], cos, sin, radii T) T {
	p := &r.balls.pairs[c.pair]
	a, b := segmentOf(&r.parts[p.a], positions), segmentOf(&r.parts[p.b], positions)
	axis := axisOf(r.balls, positions)
	b = axis.Turned(&b, cos, -sin)
	radii += kinematics.Lift[T](r.sectionRadius(p.wheelKind))
	if p.wheelKind == ballSolid {
		return solid.SegmentDistance(&a, &b, c.on[0], c.on[1]) - radii
	}
	g := b.FromAxle(positions[r.parts[0].ends[0].point])
	if p.wheelKind == ballDisc {
		return solid.DiscDistance(r.ring, &g, c.on[1]) - radii
	}
	return solid.RingDistance(r.ring, &g, c.on[1]) - radii
}
